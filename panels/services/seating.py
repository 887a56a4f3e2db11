"""Can the breaker sit there, and if not, who is in the way?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from django.db import IntegrityError, connection, transaction
from django.utils.translation import gettext as _

from contractor.errors import Refused
from panels.models import Circuit, Panel
from panels.rules.layout import Seat

CONSTRAINT = "one_breaker_per_space"


def take_seat(circuit: Circuit, *, panel: Panel, others: Iterable[Circuit] | None = None) -> Seat:
    """Give the breaker its slots, or refuse naming the one that sits there."""
    frame = panel.frame
    seat = circuit.seat_in(frame)
    if others is None:
        others = panel.circuits.exclude(pk=circuit.pk)
    for other in others:
        there = other.seat_in(frame)
        if seat.overlaps(there):
            raise taken(seat, other, there)
    circuit.slots = seat.slots
    return seat


def taken(seat: Seat, other: Circuit, there: Seat) -> Refused:
    """The refusal: which space, and who sits in it."""
    said = {
        "space": next((s for s in seat.spaces if s in there.spaces), seat.spaces[0]),
        "name": str(other),
        "place": there.text,
        "rating": other.rating_a,
    }
    if seat.poles[0].half and not there.poles[0].half:
        sentence = _(
            "Space %(space)s holds a full-size breaker: %(name)s, %(rating)s A, in %(place)s. "
            "Half a tandem does not fit over it; move or remove it first."
        )
    else:
        sentence = _(
            "Space %(space)s is taken: %(name)s, %(rating)s A, sits in %(place)s. "
            "Choose another space, or move or remove it first."
        )
    return Refused("space_taken", sentence % said, fields={"space": sentence % said})


@contextmanager
def last_guard(panel: Panel, *circuits: Circuit) -> Iterator[None]:
    """Let the database have the last word at once, and say its refusal in our words."""
    try:
        with transaction.atomic():
            yield
            with connection.cursor() as cursor:
                cursor.execute(f"SET CONSTRAINTS {CONSTRAINT} IMMEDIATE")
                cursor.execute(f"SET CONSTRAINTS {CONSTRAINT} DEFERRED")
    except IntegrityError as error:
        if CONSTRAINT not in str(error):
            raise
        raise _who_is_there(panel, circuits) from error


def _who_is_there(panel: Panel, circuits: Iterable[Circuit]) -> Refused:
    ours = list(circuits)
    for other in panel.circuits.exclude(pk__in=[circuit.pk for circuit in ours]):
        there = other.seat_in(panel.frame)
        for circuit in ours:
            seat = Seat(poles=circuit.seat_in(panel.frame).poles, slots=circuit.slots)
            if seat.overlaps(Seat(poles=there.poles, slots=other.slots)):
                return taken(seat, other, there)
    return Refused(
        "space_taken", _("Two breakers would sit in one space. Look at the panel again.")
    )
