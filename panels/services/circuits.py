"""Put a breaker into a panel, change it, move it, take it out, and take any of that back."""

from __future__ import annotations

import uuid
from typing import TypedDict, Unpack

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from panels.models import Circuit, Panel
from panels.services import feeders
from panels.services.guards import checked, lock, lock_panel, put_in
from panels.services.seating import last_guard, take_seat


class Details(TypedDict, total=False):
    """What is known of a circuit beyond its breaker."""

    protection: str
    wire_size: str
    wire_material: str
    length_ft: float | None
    wire_sets: int
    insulation_c: int | None
    terminal_c: int | None
    raceway: str
    bundled: int | None
    ambient_c: float | None
    neutral_size: str
    ground_size: str
    interrupting_ka: float | None
    full_rated: bool
    tied: bool | None
    grouped: bool | None
    locked: bool
    tap_rule: str
    serves: str
    areas: list[str]
    multiwire: str
    backed_up: bool
    shed_order: int | None
    notes: str


class Changes(Details, total=False):
    """Everything of a circuit that can be changed."""

    kind: str
    name: str
    rating_a: int
    space: int
    poles: int
    half: str


DETAILS = frozenset(Details.__annotations__)
CHANGES = frozenset(Changes.__annotations__)


@recorded
def put_breaker(
    *,
    panel: Panel,
    space: int,
    rating_a: int,
    poles: int = 1,
    half: str = "",
    kind: str = Circuit.Kind.BRANCH,
    name: str = "",
    feeds: Panel | None = None,
    by: Person,
    id: uuid.UUID | None = None,
    **details: Unpack[Details],
) -> Circuit:
    """Put a breaker into its spaces. `half` is "a" or "b" of a tandem; of a two-pole in a quad,
    "a" the outer pair and "b" the inner. `feeds` names the panel a feeder goes to.

    Raises Invalid (no such seat, a field unusable) and Refused (space taken, feeder loop).
    """
    panel = lock_panel(panel)
    circuit = Circuit(id=id or uuid.uuid4(), panel=panel)
    values = {"space": space, "rating_a": rating_a, "poles": poles, "half": half, "kind": kind}
    put_in(circuit, {**values, "name": name or str(feeds or ""), **details}, allowed=CHANGES)
    check(circuit)
    take_seat(circuit, panel=panel)
    with last_guard(panel, circuit):
        circuit.save(force_insert=True)
    if feeds is not None:
        feeders.feed_panel(panel=feeds, circuit=circuit, by=by)
    return circuit


@recorded
def change_circuit(
    *,
    circuit: Circuit,
    by: Person,
    rev: int | None = None,
    swap: bool = False,
    **changes: Unpack[Changes],
) -> Circuit:
    """Change anything of a circuit, its place included; `swap` changes places with the breaker
    that sits exactly there. Raises Stale, Invalid and Refused.
    """
    panel = lock_panel(circuit.panel)
    circuit = lock(circuit)
    circuit.require_rev(rev)
    old = (circuit.space, circuit.half)
    put_in(circuit, dict(changes), allowed=CHANGES)
    check(circuit)
    check_still_feeds(circuit)
    others = list(panel.circuits.exclude(pk=circuit.pk).select_for_update(no_key=True))
    moved = [circuit]
    if swap and (circuit.space, circuit.half) != old:
        moved += _send_to(old, circuit, panel=panel, others=others)
    for one in moved:
        take_seat(one, panel=panel, others=[other for other in others if other.pk != one.pk])
    save_seated(panel, *moved)
    return circuit


def _send_to(
    old: tuple[int, str], circuit: Circuit, *, panel: Panel, others: list[Circuit]
) -> list[Circuit]:
    """The breaker whose seat `circuit` takes, sent to the place that becomes free."""
    slots = circuit.seat_in(panel.frame).slots
    there = [other for other in others if other.slots == slots]
    for other in there:
        other.space, other.half = old
    return there


@recorded
def remove_circuit(*, circuit: Circuit, by: Person, rev: int | None = None) -> None:
    """Take a breaker out, leaving its space empty. Refused while a panel or source hangs on it."""
    lock_panel(circuit.panel)
    circuit = lock(circuit)
    circuit.require_rev(rev)
    fed = Panel.objects.filter(fed_from=circuit).first()
    if fed is not None:
        raise Refused(
            "feeds_panel",
            _("%(circuit)s feeds %(panel)s. Say first what feeds %(panel)s instead.")
            % {"circuit": circuit, "panel": fed},
        )
    source = circuit.sources.first()
    if source is not None:
        raise Refused(
            "connects_source",
            _("%(source)s is connected here. Connect it elsewhere or remove it first.")
            % {"source": source},
        )
    circuit.delete()


def save_seated(panel: Panel, *circuits: Circuit) -> None:
    with last_guard(panel, *circuits):
        for circuit in circuits:
            circuit.save()
    for circuit in circuits:
        circuit.refresh_from_db()


def check(circuit: Circuit) -> None:
    checked(circuit, exclude=["slots", "panel"])
    if circuit.kind == Circuit.Kind.SPARE and circuit.name.casefold() == "spare":
        circuit.name = ""  # its kind says so already
    if circuit.kind != Circuit.Kind.SPARE and not circuit.name:
        sentence = _("Say what it serves, or mark the breaker as a spare.")
        raise Invalid("unnamed", sentence, fields={"name": sentence})
    if circuit.kind == Circuit.Kind.SPARE and circuit.backed_up:
        sentence = _("A spare serves nothing, so it cannot be backed up.")
        raise Invalid("spare_backed_up", sentence, fields={"backed_up": sentence})
    if not circuit.backed_up:
        circuit.shed_order = None


def check_still_feeds(circuit: Circuit) -> None:
    if circuit.kind == Circuit.Kind.FEEDER:
        return
    fed = Panel.objects.filter(fed_from=circuit).first()
    if fed is not None:
        sentence = _("This breaker feeds %(panel)s, so it stays a feeder.") % {"panel": fed}
        raise Refused("feeds_panel", sentence, fields={"kind": sentence})
