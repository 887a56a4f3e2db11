"""A panel's schedule as a list that spreadsheet programs open, and that can be taken in again."""

from __future__ import annotations

from contractor.lists import write
from panels.models import Circuit, Panel
from panels.queries import records
from panels.schedules.columns import COLUMNS

KINDS = {"branch": "circuit"}
PROTECTION = {"gfci": "GFCI", "afci": "AFCI", "dual": "both", "none": "plain", "": ""}
METALS = {"cu": "Cu", "al": "Al", "": ""}
EXAMPLE = (
    ("1", 2, 50, "Range", "circuit", "", "6 Cu", "", "plain", "", "no", "", ""),
    ("2", 1, 20, "Kitchen counter receptacles, left", "", "", "12 Cu", 48, "both", "", "", "", ""),
    ("4", 1, 20, "Kitchen counter receptacles, right", "", "", "12 Cu", 52, "both", "", "", "", ""),
    ("5", 2, 100, "Garage panel", "feeder", "", "1 Al", 60, "", "", "", "", ""),
    ("6a", 1, 15, "Hall and stair lights", "", "", "", "", "AFCI", "A", "yes", 2, ""),
    ("6b", 1, 15, "Smoke alarms", "", "", "", "", "AFCI", "", "yes", "", "interconnected"),
    ("8", 1, 20, "Spare", "spare", "", "", "", "", "", "", "", ""),
    ("10", "", "", "Space", "", "", "", "", "", "", "", "", ""),
)


def schedule_list(panel: Panel) -> bytes:
    """Every breaker, a line each, by the first of its spaces (poles say the rest: a spreadsheet
    program would make a number or a date of 1,3 or 1-3)."""
    return write(_headers(), [_row(circuit) for circuit in records.circuits_of(panel)])


def example() -> bytes:
    return write(_headers(), EXAMPLE)


def _headers() -> list[str]:
    return [column.header for column in COLUMNS]


def _row(circuit: Circuit) -> list[object]:
    fed = records.fed_by(circuit)
    spare = circuit.kind == Circuit.Kind.SPARE and not circuit.name
    return [
        f"{circuit.space}{circuit.half}",
        circuit.poles,
        circuit.rating_a,
        "Spare" if spare else circuit.name,
        KINDS.get(circuit.kind, circuit.kind),
        fed.name if fed else "",
        f"{circuit.wire_size} {METALS[circuit.wire_material]}".strip(),
        circuit.length_ft,
        PROTECTION[circuit.protection],
        circuit.multiwire,
        "yes" if circuit.backed_up else "no",
        circuit.shed_order,
        circuit.notes,
    ]
