"""Prove a line of the close-out list with readings taken at a panel, and strike them out again."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from jobs.models import CloseOutLine, LineReading, Visit
from jobs.planning.close_out import MEASURED
from jobs.services.answers import give, withdraw
from jobs.services.guards import open_line
from panels.models import Panel, Reading
from panels.services.readings import Circumstances, record_reading, remove_reading


@recorded
def measure(
    *,
    line: CloseOutLine,
    panel: Panel,
    values: Mapping[str, float],
    how: Circumstances,
    by: Person,
    now: dt.datetime,
    visit: Visit | None = None,
    batch: uuid.UUID | None = None,
    taken_at: dt.datetime | None = None,
) -> list[Reading]:
    """One reading for each entry of `values` ("A-N": 121.4), all or none of them.

    The readings' ids follow from `batch`, so that the same request sent twice records once.
    Raises Invalid with the sentence at the entry it belongs to.
    """
    line = open_line(line, by)
    _can_be_measured(line, panel, values)
    made = []
    for between, value in values.items():
        key = uuid.uuid5(batch, between) if batch else uuid.uuid4()
        there = Reading.objects.filter(pk=key).first()
        if there is None:
            facts: Circumstances = {**how, "between": between}
            there = _record(line, panel, value, key, facts, visit, by, now, taken_at)
        elif there.value != value or not line.proofs.filter(reading=there).exists():
            raise Refused(
                "already_there",
                _("These readings were saved already, otherwise than now. Load the list anew."),
            )
        made.append(there)
    if line.done_at is None:
        give(line, by=by, now=now)
    return made


def _record(
    line: CloseOutLine, panel: Panel, value: float, key: uuid.UUID, how: Circumstances,
    visit: Visit | None, by: Person, now: dt.datetime, taken_at: dt.datetime | None,
) -> Reading:  # fmt: skip
    how["visit"] = visit.pk if visit else None
    try:
        reading = record_reading(
            panel=panel, kind=line.asks, value=value, by=by, now=now, taken_at=taken_at, id=key,
            **how,
        )  # fmt: skip
    except Invalid as fault:
        at = {
            how["between"] if name == "value" else name: text for name, text in fault.fields.items()
        }
        raise Invalid(fault.code, fault.sentence, fields=at) from fault
    LineReading.objects.create(line=line, reading=reading)
    return reading


def _can_be_measured(line: CloseOutLine, panel: Panel, values: Mapping[str, float]) -> None:
    if line.asks not in MEASURED:
        raise Refused(
            "other_proof",
            _("“%(line)s” asks for %(asks)s, not for readings.")
            % {"line": line.label, "asks": line.get_asks_display()},
        )
    if line.not_applicable:
        raise Refused(
            "does_not_apply",
            _("“%(line)s” is marked as not applying here. Take that back first.")
            % {"line": line.label},
        )
    if panel.site_id != line.job.site_id:
        raise Refused("other_site", _("That panel stands at another site."))
    if not values:
        raise Invalid("nothing_measured", _("Type at least one value."))


@recorded
def strike_reading(*, line: CloseOutLine, reading: Reading, by: Person) -> dict[str, Any]:
    """Take out a reading typed wrong; answers with what `put_back_reading` needs."""
    line = open_line(line, by)
    if not line.proofs.filter(reading=reading).exists():
        return {}
    facts = {name: getattr(reading, name) for name in KEPT}
    remove_reading(reading=reading, by=by)
    if not line.proofs.exists():
        withdraw(line)
    return {
        **facts,
        "id": str(reading.pk),
        "panel": str(reading.panel_id),
        "circuit": str(reading.circuit_id or ""),
        "visit": str(reading.visit or ""),
        "taken_at": reading.taken_at.isoformat(),
    }


KEPT = ("between", "value", "test_v", "temperature_c", "marked_value", "instrument")


@recorded
def put_back_reading(
    *, line: CloseOutLine, facts: Mapping[str, Any], by: Person, now: dt.datetime
) -> Reading:
    """Undo `strike_reading`: the same reading under the same id."""
    line = open_line(line, by)
    key = uuid.UUID(facts["id"])
    there = Reading.objects.filter(pk=key).first()
    if there:
        return there
    panel = Panel.objects.get(pk=facts["panel"])
    circuit = panel.circuits.filter(pk=facts["circuit"]).first() if facts["circuit"] else None
    reading = record_reading(
        panel=panel, kind=line.asks, by=by, now=now, id=key, circuit=circuit,
        taken_at=dt.datetime.fromisoformat(facts["taken_at"]),
        visit=uuid.UUID(facts["visit"]) if facts["visit"] else None,
        **{name: facts[name] for name in KEPT},
    )  # fmt: skip
    LineReading.objects.create(line=line, reading=reading)
    if line.done_at is None:
        give(line, by=by, now=now)
    return reading
