"""Issue the directory of a panel, and say how the record has moved on since."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from django.db import transaction
from django.db.models import Prefetch

from contractor import queries
from contractor.models import CustomerLink, Firm, Person, Site
from contractor.services.links import link_for
from panels.directory import changes, content
from panels.directory.changes import Change
from panels.directory.content import Directory
from panels.models import Circuit, DirectoryRevision, Panel, Source
from panels.rules import tree
from panels.services.guards import lock_panel


@transaction.atomic
def issue_directory(*, panel: Panel, by: Person, now: dt.datetime) -> DirectoryRevision:
    """Issue the next revision if the record differs from the last one; else the last one again.

    The code on the door keeps opening the live page: its link is made with the first issue.
    Raises Refused for a retired panel.
    """
    panel = lock_panel(panel)
    plain = content.to_plain(recorded(panel))
    fingerprint = content.digest(plain)
    last = latest(panel)
    link_for(site=panel.site, purpose=CustomerLink.Purpose.DOOR, subject=panel.pk, now=now)
    if last and last.digest == fingerprint:
        return last
    return DirectoryRevision.objects.create(
        panel=panel,
        number=last.number + 1 if last else 1,
        issued_at=now,
        issued_by=by,
        content=plain,
        digest=fingerprint,
    )


def latest(panel: Panel) -> DirectoryRevision | None:
    """The revision that counts, or None before the first issue."""
    return panel.revisions.select_related("issued_by").order_by("-number").first()


@dataclass(frozen=True)
class Issued:
    """A revision in the list of a panel, with what changed from the one before."""

    revision: DirectoryRevision
    changes: list[Change]


def history(panel: Panel) -> list[Issued]:
    """Every revision, newest first."""
    rows = list(panel.revisions.select_related("issued_by").order_by("-number"))
    read = [content.from_plain(row.content) for row in rows]
    told = [changes.changes(was, now) for now, was in pairwise(read)]
    return [Issued(row, told[at] if at < len(told) else []) for at, row in enumerate(rows)]


def in_force(site: Site) -> list[DirectoryRevision]:
    """The latest revision of every panel in use, each below the panel that feeds it."""
    rows = (
        DirectoryRevision.objects.filter(panel__site=site, panel__retired_at=None)
        .select_related("panel__site", "issued_by")
        .order_by("panel_id", "-number")
        .distinct("panel_id")
    )
    by_panel = {str(row.panel_id): row for row in sorted(rows, key=lambda row: row.panel.name)}
    parents = {key: row.content["supply"]["panel_id"] or None for key, row in by_panel.items()}
    return [by_panel[key] for key in _downstream(parents)]


def _downstream(parents: dict[str, str | None]) -> list[str]:
    """Each panel below the one that feeds it. Issues of different days may contradict each
    other; a panel they would lose comes last."""
    fed = tree.children(parents)
    waiting: list[str | None] = [None]
    found: list[str] = []
    while waiting:
        key = waiting.pop()
        found += [key] if key else []
        waiting += reversed(fed.get(key, []))
    return [*found, *(key for key in parents if key not in found)]


def differences(panel: Panel) -> list[Change]:
    """How the record differs from the revision last issued; empty also before the first issue."""
    last = latest(panel)
    return differences_from(last, panel) if last else []


def differences_from(revision: DirectoryRevision, panel: Panel) -> list[Change]:
    return changes.changes(content.from_plain(revision.content), recorded(panel))


def recorded(panel: Panel) -> Directory:
    """The directory as the record stands now."""
    return recorded_of(panel.site, only=[panel])[0]


def recorded_of(site: Site, *, only: Iterable[Panel] | None = None) -> list[Directory]:
    """The directories of the site's panels in use, as the record stands now: five queries."""
    panels = Panel.objects.filter(site=site, retired_at=None)
    if only is not None:
        panels = Panel.objects.filter(pk__in=[panel.pk for panel in only])
    fed = Panel.objects.filter(retired_at=None)
    rows = panels.select_related("site", "fed_from__panel", "fed_through").prefetch_related(
        Prefetch("circuits", Circuit.objects.select_related("feeds")),
        Prefetch("feeds_through", fed),
    )
    sources = list(
        Source.objects.filter(site=site)
        .exclude(kind=Source.Kind.VEHICLE)
        .select_related("circuit__panel")
    )
    firm = issuer()
    return [_directory(row, sources, firm) for row in rows]


def _directory(panel: Panel, sources: list[Source], firm: content.Issuer) -> Directory:
    return Directory(
        identity=_identity(panel),
        supply=_supply(panel),
        issuer=firm,
        circuits=tuple(_circuit(circuit) for circuit in panel.circuits.all()),
        sources=tuple(_source(source) for source in sources),
    )


def _identity(panel: Panel) -> content.Identity:
    return content.Identity(
        panel_id=str(panel.pk),
        site=panel.site.address,
        name=panel.name,
        location=panel.location,
        mounting=panel.mounting,
        outdoors=panel.outdoors,
        system=panel.system,
        rating_a=panel.rating_a,
        main_a=panel.main_a,
        interrupting_ka=panel.interrupting_ka,
        spaces=panel.spaces,
        numbering=panel.numbering,
        directory_at=panel.directory_at,
        lugs_feed=tuple(sorted(fed.name for fed in panel.feeds_through.all())),
    )


def _supply(panel: Panel) -> content.Supply:
    if panel.fed_through:
        through = panel.fed_through
        return content.Supply(way="lugs", panel=through.name, panel_id=str(through.pk))
    if panel.fed_from is None:
        return content.Supply()
    breaker, source = panel.fed_from, panel.fed_from.panel
    return content.Supply(
        way="feeder",
        panel=source.name,
        panel_id=str(source.pk),
        spaces=breaker.seat_in(source.frame).text.replace(",", ", "),
        rating_a=breaker.rating_a,
    )


def _circuit(circuit: Circuit) -> content.Circuit:
    fed = getattr(circuit, "feeds", None)
    if fed is not None and fed.retired_at:
        fed = None
    return content.Circuit(
        space=circuit.space,
        half=circuit.half,
        poles=circuit.poles,
        rating_a=circuit.rating_a,
        kind=circuit.kind,
        name=circuit.name,
        protection=circuit.protection,
        multiwire=circuit.multiwire,
        backed_up=circuit.backed_up,
        shed_order=circuit.shed_order,
        feeds=fed.name if fed else "",
        feeds_id=str(fed.pk) if fed else "",
    )


def _source(source: Source) -> content.Source:
    at = source.circuit
    return content.Source(
        kind=source.kind,
        name=source.name,
        location=source.location,
        disconnect_at=source.disconnect_at,
        connected_at=f"{at.panel} {at.seat_in(at.panel.frame).text}" if at else "",
    )


def issuer() -> content.Issuer:
    """The firm as its papers name it."""
    firm = queries.firm() or Firm()
    return content.Issuer(name=firm.name, licence_number=firm.licence_number, phone=firm.phone)
