"""What does each edition say about available fault current, and how is that known?"""

from __future__ import annotations

from dataclasses import replace

from panels.editions.marks import read, remembered
from panels.editions.marks import read_2017 as of_2017
from panels.rules.fault.edition import FaultRules

NOBODY: frozenset[str] = frozenset()
DWELLINGS = frozenset({"one_family", "two_family"})
OTHERS = frozenset({"apartments", "other"})
COURSE = "state-approved continuing-education courses on the 2020 and 2026 code"

FAULT_2017 = FaultRules(
    interrupting=of_2017(True, "110.9, 110.10"),
    service_marking=of_2017(OTHERS, "110.24(A)"),
    panel_marking=remembered(NOBODY, "408.6", "This edition asks no marking of a panelboard."),
    disconnect=remembered(NOBODY, "230.85", "This edition has no rule for one."),
)

FAULT_2020 = replace(
    FAULT_2017,
    interrupting=read(True, "110.9, 110.10, 408.6", in_=COURSE),
    panel_marking=read(OTHERS, "408.6", in_=COURSE),
    disconnect=read(DWELLINGS, "230.85", in_=COURSE),
)

FAULT_2023 = FAULT_2020

FAULT_2026 = replace(
    FAULT_2023,
    panel_marking=read(
        OTHERS, "408.6", in_=COURSE, note="This edition lists five things to mark; see its text."
    ),
    disconnect=read(DWELLINGS, "230.70(A)(1)", in_=COURSE, note="230.85 of earlier editions."),
)
