"""Who changed what, when, from where: the events of a record, in words."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.apps import apps
from django.db import models
from django.utils.translation import gettext as _
from pghistory.models import Events

from contractor.models import Merge, Person
from contractor.models.records import FieldRecord
from contractor.queries.devices import device_words
from contractor.queries.values import Names, shown

MOST = 500

# What has a history page, and what belongs to it: the rows that point at it, then those that
# point at rows of one of its lists. Rooms above are named in strings.
KEPT: dict[str, tuple[str, dict[str, list[str]]]] = {
    "firm": ("contractor.Firm", {}),
    "authority": ("contractor.Authority", {}),
    "utility": ("contractor.Utility", {}),
    "customer": ("contractor.Customer", {"": ["contractor.Site"]}),
    "site": ("contractor.Site", {"": ["jobs.Job", "panels.Panel", "panels.Source"]}),
    "person": (
        "contractor.Person",
        {
            "": [
                "contractor.Licence",
                "contractor.Certificate",
                "contractor.Absence",
                "contractor.CrewMember",
            ]
        },
    ),
    "crew": ("contractor.Crew", {"": ["contractor.CrewMember"]}),
    "job": (
        "jobs.Job",
        {
            "": [
                "jobs.Visit",
                "jobs.Permit",
                "jobs.Inspection",
                "jobs.CloseOutLine",
                "jobs.Signature",
                "jobs.CloseOut",
            ],
            "visits": ["jobs.Hold", "jobs.Assignment", "jobs.Override", "jobs.Photo"],
        },
    ),
    "panel": ("panels.Panel", {"": ["panels.Circuit", "panels.Reading"]}),
    "kind": (
        "jobs.JobKind",
        {
            "": ["jobs.KindVisit", "jobs.KindInspection", "jobs.KindCloseOut"],
            "visits": ["jobs.KindHold"],
        },
    ),
}
# Kept by the program for itself, and telling a reader nothing.
SILENT = {"id", "rev", "changed_at", "created_at", "slots"}


@dataclass(frozen=True)
class FieldChange:
    label: str
    was: str
    now: str


@dataclass(frozen=True)
class Entry:
    """One change: at an instant, by someone, of one row."""

    at: dt.datetime
    who: str
    verb: str
    what: str
    changes: list[FieldChange] = field(default_factory=list)
    source: str = ""


def model_of(key: str) -> type[models.Model] | None:
    """The model whose history page has this name, or None."""
    return apps.get_model(KEPT[key][0]) if key in KEPT else None


def history(key: str, record: models.Model) -> list[Entry]:
    """What happened to the record and what belongs to it, the newest first."""
    events = _events(key, record)
    names = Names.of(events)
    entries = [_entry(event, names) for event in events]
    return [entry for entry in entries if entry.changes or entry.verb != _("changed")]


def as_of(record: FieldRecord, rev: int) -> Any:
    """The record as it was at a revision, from its history; None when that is not known."""
    events: Any = type(record).pgh_event_model  # type: ignore[attr-defined]
    return events.objects.filter(pgh_obj_id=record.pk, rev=rev).order_by("pgh_id").last()


def _events(key: str, record: models.Model) -> list[Any]:
    own = [record, *_merged_away(record)]
    events: Any = Events.objects
    found = list(events.tracks(own).order_by("-pgh_created_at", "-pgh_id")[:MOST])
    for through, labels in KEPT[key][1].items():
        anchors = list(getattr(record, through).all()) if through else own
        if anchors:
            about = events.references(anchors).across(*map(_event_model, labels))
            found += about.order_by("-pgh_created_at", "-pgh_id")[:MOST]
    return sorted(found, key=lambda event: event.pgh_created_at, reverse=True)[:MOST]


def _event_model(label: str) -> Any:
    return apps.get_model(label).pgh_event_model


def _merged_away(record: models.Model) -> list[models.Model]:
    """Entries that were merged into this customer: their story goes on here."""
    if record._meta.label != "contractor.Customer":
        return []
    gone = Merge.objects.filter(kept=record.pk).values_list("dropped_id", flat=True)
    return [type(record)(pk=key) for key in gone]


def _entry(event: Any, names: Names) -> Entry:
    model = apps.get_model(event.pgh_obj_model)
    context = event.pgh_context or {}
    return Entry(
        at=event.pgh_created_at,
        who=_who(context, names),
        verb={"insert": _("added"), "delete": _("removed")}.get(event.pgh_label, _("changed")),
        what=_what(model, event.pgh_data),
        changes=list(_changes(event, model, names)),
        source=_source(context),
    )


def _who(context: dict[str, Any], names: Names) -> str:
    if context.get("user"):
        return names.get(Person, context["user"]) or _("someone who is gone")
    return _("a customer, by link") if context.get("url") else _("the program itself")


def _what(model: type[models.Model], data: dict[str, Any]) -> str:
    """The kind of row and what it is called, as far as its own columns say."""
    kind = str(model._meta.verbose_name)
    known = ("name", "street", "label", "title", "number", "first_day")
    called = next((str(data[column]) for column in known if data.get(column)), "")
    return f"{kind} {called}".strip()


def _changes(event: Any, model: type[models.Model], names: Names) -> Iterable[FieldChange]:
    for column, (was, now) in (event.pgh_diff or {}).items():
        known = next((each for each in model._meta.concrete_fields if each.column == column), None)
        if known is None or known.name in SILENT:
            continue
        label = str(known.verbose_name)
        yield FieldChange(label, shown(known, was, names), shown(known, now, names))


def _source(context: dict[str, Any]) -> str:
    """From where: page or API, kind of device, address."""
    if not context.get("url"):
        return ""
    door = _("by API") if context["url"].startswith("/api/") else ""
    parts = [door, device_words(context.get("device", "")), context.get("address", "")]
    return ", ".join(part for part in parts if part)
