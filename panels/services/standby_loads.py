"""What do the backed-up circuits draw: as recorded, and assumed where nothing is recorded?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from panels.models import Circuit, Load
from panels.queries.standby import StandbyRecord
from panels.rules.description import load_from
from panels.rules.dwelling import Service
from panels.rules.errors import BadDescription
from panels.rules.fields import Fields
from panels.rules.standby.assumptions import DAYS, GENERAL_WATTS
from panels.rules.standby.loads import mean_draw
from panels.services.load import described_load

GENERAL, OTHER = "general", "other"
GENERAL_A = 20  # the largest breaker of a lighting or receptacle circuit at home
MOST_APART = 6  # motors of one kind that are listed one by one, as each starts by itself


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """Rows for the rules; circuits assumed, circuits without a load, loads on no circuit."""

    rows: list[dict[str, Any]]
    assumed: list[Circuit]
    unknown: list[Circuit]
    loose: list[Load]


def drawn(record: StandbyRecord, *, month: int) -> Drawn:
    """The loads that are backed up, each with its part of the site's typical draw that month."""
    backed = {one.circuit.pk: one for one in record.backed}
    rows: list[dict[str, Any]] = []
    assumed, unknown, total = [], [], 0.0
    for circuit in record.circuits:
        found = rows_of(circuit, record.on.get(circuit.pk, []))
        total += sum(_mean(row, month) for row in found)
        if circuit.pk not in backed:
            continue
        order = backed[circuit.pk].order
        rows += [row | ({"shed_order": order} if order else {}) for row in found]
        if not found:
            unknown.append(circuit)
        elif not record.on.get(circuit.pk):
            assumed.append(circuit)
    total += sum(_mean(row, month) for load in record.loose for row in load_rows(load))
    for row in rows:
        row["share"] = round(_mean(row, month) / total, 9) if total else 0.0
    return Drawn(rows=rows, assumed=assumed, unknown=unknown, loose=record.loose)


def _mean(row: dict[str, Any], month: int) -> float:
    real = row["running"]["value"] * row.get("power_factor", 1.0)
    return mean_draw(real, row["habit"], month)


def rows_of(circuit: Circuit, loads: list[Load]) -> list[dict[str, Any]]:
    """The loads of a circuit; for a lighting or receptacle circuit without any, what is usual."""
    rows = [row | {"circuit": str(circuit)} for load in loads for row in load_rows(load)]
    general = circuit.kind == Circuit.Kind.BRANCH and circuit.poles == 1
    if not loads and general and circuit.rating_a <= GENERAL_A:
        usual = {"value": GENERAL_WATTS, "unit": "W"}
        return [{"name": str(circuit), "circuit": str(circuit), "running": usual, "habit": GENERAL}]
    return rows


def load_rows(load: Load) -> list[dict[str, Any]]:
    """A load as a row for the rules, motors one by one; none where its nameplate is not known."""
    try:
        found = load_from(Fields(plain=described_load(load)), Service())
    except BadDescription:
        return []
    if not found.one:
        return []
    apart = load.count if found.driven and load.count <= MOST_APART else 1
    row: dict[str, Any] = {
        "name": load.name,
        "running": {"value": round(found.all / apart, 3), "unit": "VA"},
        "habit": load.kind if load.kind in DAYS else OTHER,
    }
    if load.power_factor:
        row["power_factor"] = load.power_factor
    if found.driven:
        row["motor"] = True
        if load.starting_a:
            row["starting"] = {"value": load.starting_a, "unit": "A"}
            row["volts"] = float(found.volts.magnitude)
    return (
        [row] * apart
        if apart == 1
        else [row | {"name": f"{load.name} {n}"} for n in range(1, apart + 1)]
    )
