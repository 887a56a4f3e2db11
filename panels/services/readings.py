"""Record what was measured at a panel, and strike out what was typed wrong."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import TypedDict, Unpack

from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.history import recorded
from contractor.models import Person
from panels.models import Circuit, Panel, Reading
from panels.rules import readings
from panels.rules.layout import System
from panels.services.guards import checked, lock, lock_panel, put_in

AHEAD = dt.timedelta(minutes=10)  # a phone's clock may be a little fast


class Circumstances(TypedDict, total=False):
    """How it was measured."""

    circuit: Circuit | None
    between: str
    test_v: int | None
    temperature_c: float | None
    marked_value: float | None
    instrument: str
    visit: uuid.UUID | None


CIRCUMSTANCES = frozenset(Circumstances.__annotations__)


@recorded
def record_reading(
    *,
    panel: Panel,
    kind: str,
    value: float,
    by: Person,
    now: dt.datetime,
    taken_at: dt.datetime | None = None,
    id: uuid.UUID | None = None,
    **circumstances: Unpack[Circumstances],
) -> Reading:
    """Record one reading: V between two conductors, MΩ with its test voltage, or lb-in.

    Raises Invalid when the value or what goes with it cannot be.
    """
    panel = lock_panel(panel)
    reading = Reading(id=id or uuid.uuid4(), panel=panel, taken_by=by, taken_at=taken_at or now)
    put_in(reading, dict(circumstances), allowed=CIRCUMSTANCES)
    put_in(reading, {"kind": kind, "value": value}, allowed=("kind", "value"))
    checked(reading, exclude=["panel", "circuit", "taken_by"])
    _check(reading, panel=panel, now=now)
    reading.save(force_insert=True)
    return reading


@recorded
def remove_reading(*, reading: Reading, by: Person, rev: int | None = None) -> None:
    """Strike out a reading typed wrong; the history keeps it."""
    lock_panel(reading.panel)
    reading = lock(reading)
    reading.require_rev(rev)
    reading.delete()


def _check(reading: Reading, *, panel: Panel, now: dt.datetime) -> None:
    if reading.taken_at > now + AHEAD:
        raise _wrong("taken_at", _("This is in the future. Check the date and time."))
    if reading.circuit and reading.circuit.panel_id != panel.pk:
        raise _wrong("circuit", _("Choose a circuit of this panel."))
    found = readings.fault(
        kind=reading.kind,
        value=reading.value,
        between=reading.between,
        system=System(panel.system),
        test_v=reading.test_v,
        temperature_c=reading.temperature_c,
        marked_value=reading.marked_value,
    )
    if found is not None:
        raise _wrong(*found)


def _wrong(field: str, sentence: str) -> Invalid:
    return Invalid("invalid", sentence, fields={field: sentence})
