"""Add a panel to a site, correct its nameplate, retire it."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import TypedDict, Unpack

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import Circuit, Panel, Source
from panels.rules.places import read_spaces
from panels.services import feeders
from panels.services.guards import checked, lock_panel, lock_site, put_in
from panels.services.seating import last_guard, take_seat


class Nameplate(TypedDict, total=False):
    """What a panel says about itself, and where it is."""

    name: str
    location: str
    mounting: str
    outdoors: bool
    system: str
    rating_a: int
    bus_a: int
    main_a: int | None
    interrupting_ka: float | None
    spaces: int
    numbering: str
    tandem_spaces: str
    feed_through_lugs: bool
    directory_at: str
    supply_marked: bool | None
    fault_marked_ka: float | None
    fault_marked_on: dt.date | None
    transformer_kva: float | None
    transformer_z_percent: float | None
    transformer_xr: float | None
    secondary_protected_a: int | None
    notes: str


NAMEPLATE = frozenset(Nameplate.__annotations__)
SEATING = ("spaces", "numbering", "system", "tandem_spaces")


@recorded
def add_panel(
    *,
    site: Site,
    circuit: Circuit | None = None,
    through: Panel | None = None,
    by: Person,
    id: uuid.UUID | None = None,
    **nameplate: Unpack[Nameplate],
) -> Panel:
    """Record a panel of a site, fed by the service unless `circuit` or `through` says otherwise.

    `bus_a` is taken as the rating where it is not given.
    """
    site = lock_site(site.pk)
    panel = Panel(id=id or uuid.uuid4(), site=site)
    put_in(panel, dict(nameplate), allowed=NAMEPLATE)
    if panel.bus_a is None:
        panel.bus_a = panel.rating_a
    _check(panel)
    panel.save(force_insert=True)
    if circuit is not None or through is not None:
        panel = feeders.feed_panel(panel=panel, circuit=circuit, through=through, by=by)
    return panel


@recorded
def change_panel(
    *, panel: Panel, by: Person, rev: int | None = None, **nameplate: Unpack[Nameplate]
) -> Panel:
    """Correct a panel. Other spaces, numbers or legs seat every breaker anew, or are refused.

    Raises Stale, Invalid and Refused.
    """
    panel = lock_panel(panel)
    panel.require_rev(rev)
    before = {name: getattr(panel, name) for name in SEATING}
    put_in(panel, dict(nameplate), allowed=NAMEPLATE)
    _check(panel)
    changed = [name for name in SEATING if getattr(panel, name) != before[name]]
    if changed:
        _seat_all(panel, because=changed[0])
    if not panel.feed_through_lugs:
        _check_lugs_unused(panel)
    panel.save()
    panel.refresh_from_db()
    return panel


@recorded
def retire_panel(*, panel: Panel, by: Person, now: dt.datetime, rev: int | None = None) -> Panel:
    """Take a panel out of use: it stays on record, its feeder becomes free.

    Refused while it feeds another panel or a source is connected to it.
    """
    panel = lock_panel(panel)
    panel.require_rev(rev)
    fed = Panel.objects.filter(fed_from__panel=panel).first() or panel.feeds_through.first()
    if fed is not None:
        raise Refused(
            "feeds_panel",
            _("%(panel)s feeds %(fed)s. Say first what feeds %(fed)s instead.")
            % {"panel": panel, "fed": fed},
        )
    source = Source.objects.filter(circuit__panel=panel).first()
    if source is not None:
        raise Refused(
            "connects_source",
            _("%(source)s is connected to %(panel)s. Connect it elsewhere first.")
            % {"source": source, "panel": panel},
        )
    panel.retired_at = now
    panel.fed_from = panel.fed_through = None
    panel.save()
    panel.refresh_from_db()
    return panel


def _check(panel: Panel) -> None:
    checked(panel, exclude=["site", "fed_from", "fed_through"])
    read_spaces(panel.tandem_spaces, spaces=panel.spaces)
    twin = Panel.objects.filter(site_id=panel.site_id, retired_at=None, name__iexact=panel.name)
    if twin.exclude(pk=panel.pk).exists():
        raise _same_name(panel)


def _same_name(panel: Panel) -> Invalid:
    sentence = _("This site already has a panel called %(name)s. Give this one its own name.")
    told = sentence % {"name": panel.name}
    return Invalid("name_taken", told, fields={"name": told})


def _check_lugs_unused(panel: Panel) -> None:
    fed = panel.feeds_through.first()
    if fed is not None:
        told = _("%(fed)s is fed from these lugs. Say first what feeds it instead.") % {"fed": fed}
        raise Refused("feeds_panel", told, fields={"feed_through_lugs": told})


def _seat_all(panel: Panel, *, because: str) -> None:
    """Seat every breaker by the changed backplate; the number of its first space stays."""
    done: list[Circuit] = []
    moved: list[Circuit] = []
    for circuit in panel.circuits.select_for_update(no_key=True):
        before = circuit.slots
        try:
            take_seat(circuit, panel=panel, others=done)
        except Refused as refusal:
            raise _in_the_way(circuit, refusal, field=because) from refusal
        done.append(circuit)
        if circuit.slots != before:
            moved.append(circuit)
    with last_guard(panel, *moved):
        for circuit in moved:
            circuit.save(update_fields=["slots"])


def _in_the_way(circuit: Circuit, refusal: Refused, *, field: str) -> Refused:
    sentence = _("%(circuit)s in space %(space)s stands in the way. %(why)s") % {
        "circuit": circuit,
        "space": circuit.space,
        "why": refusal.sentence,
    }
    return Refused("does_not_fit", sentence, fields={field: sentence})
