"""What does each edition say about conductors, in which section, and how is that known?"""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from contractor.units import Q
from panels.editions import read_wire
from panels.editions.marks import read_2017 as read
from panels.editions.marks import remembered, summarised
from panels.editions.read import percent_table
from panels.rules.sourced import Mark, Sourced
from panels.rules.wire.edition import Carrying, DwellingWire, Falling, Grounding, Wire
from panels.rules.wire.sizes import Metal, size_of

T = TypeVar("T")
NUMBER = "The value is that of 2017; the number of the section is from memory."
SUMMARY_2026 = "a newspaper's summary of the 2026 changes"

CARRYING = Carrying(
    ampacity=read(read_wire.ampacity_table(), "Table 310.15(B)(16)"),
    ambient=read(read_wire.ambient_table(), "Table 310.15(B)(2)(a)"),
    bundling=read(percent_table("bundling.csv"), "Table 310.15(B)(3)(a)"),
    bundling_from=read(Q(24.0, "in"), "310.15(B)(3)(a)"),
    terminals_60_through=read(Q(100.0, "A"), "110.14(C)(1)"),
    terminals_60_through_size=read(size_of("1"), "110.14(C)(1)"),
    small=read(
        read_wire.small_limits(cu={"14": 15, "12": 20, "10": 30}, al={"12": 15, "10": 25}),
        "240.4(D)",
    ),
    next_size_through=remembered(Q(800.0, "A"), "240.4(B)"),
    parallel_from=remembered(size_of("1/0"), "310.10(H)(1)"),
    continuous=read(1.25, "210.19(A)(1), 210.20(A), 215.2, 215.3"),
)

DWELLING = DwellingWire(
    factor=read(0.83, "310.15(B)(7)"),
    least=read(Q(100.0, "A"), "310.15(B)(7)"),
    most=read(Q(400.0, "A"), "310.15(B)(7)"),
    rated=remembered(read_wire.dwelling_table(), "Annex D, Example D7"),
)

GROUNDING = Grounding(
    equipment=read(read_wire.equipment_grounding_table(), "Table 250.122"),
    in_proportion=read(True, "250.122(B)"),
    electrode=read(read_wire.electrode_table(), "Table 250.66"),
    to_rod=remembered(read_wire.sizes("6", "4"), "250.66(A)"),
    to_concrete=remembered({Metal.COPPER: size_of("4")}, "250.66(B)"),
)

FALLING = Falling(
    impedance=read(read_wire.impedance_table(), "Chapter 9 Table 9"),
    resistance=read(read_wire.resistance_table(), "Chapter 9 Table 8"),
    temperature=read({Metal.COPPER: 0.00323, Metal.ALUMINIUM: 0.00330}, "Chapter 9 Table 8 note 2"),
    k=read(
        {Metal.COPPER: 12.9, Metal.ALUMINIUM: 21.2},
        "Chapter 9 Table 8 (ohms per 1000 ft × circular mils ÷ 1000, rounded)",
    ),
    branch_percent=read(3.0, "210.19(A) note 4"),
    total_percent=read(5.0, "210.19(A) note 4"),
)

WIRE_2017 = Wire(carrying=CARRYING, dwelling=DWELLING, grounding=GROUNDING, falling=FALLING)


def _moved(sourced: Sourced[T], cite: str) -> Sourced[T]:
    """The same value under a number that nobody here has read."""
    return replace(sourced, cite=cite, mark=Mark.MEMORY, note=NUMBER)


WIRE_2020 = replace(
    WIRE_2017,
    carrying=replace(
        CARRYING,
        ampacity=replace(CARRYING.ampacity, cite="Table 310.16"),
        ambient=_moved(CARRYING.ambient, "Table 310.15(B)(1)"),
        bundling=_moved(CARRYING.bundling, "Table 310.15(C)(1)"),
        bundling_from=_moved(CARRYING.bundling_from, "310.15(C)(1)"),
        parallel_from=_moved(CARRYING.parallel_from, "310.10(G)(1)"),
    ),
    dwelling=DwellingWire(
        factor=replace(DWELLING.factor, cite="310.12"),
        least=replace(DWELLING.least, cite="310.12"),
        most=replace(DWELLING.most, cite="310.12"),
        rated=remembered(DWELLING.rated.value, "Table 310.12(A)"),
    ),
    falling=replace(
        FALLING,
        branch_percent=replace(FALLING.branch_percent, cite="210.19 note"),
        total_percent=replace(FALLING.total_percent, cite="210.19 note"),
    ),
)

WIRE_2023 = replace(
    WIRE_2020,
    carrying=replace(
        WIRE_2020.carrying,
        ambient=_moved(CARRYING.ambient, "Table 310.15(B)(1)(1)"),
    ),
)

WIRE_2026 = replace(
    WIRE_2023,
    dwelling=replace(
        WIRE_2023.dwelling,
        factor=summarised(
            0.83,
            "310.12",
            in_=SUMMARY_2026,
            note="The section was slightly revised in 2026; the new wording was not read.",
        ),
    ),
)
