"""NFPA 70-2026: what changed from 2023, as far as load calculation needs it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from contractor.units import Q
from panels.editions.checks import CHECKS_2026
from panels.editions.ed2023 import ED2023
from panels.editions.fault import FAULT_2026
from panels.editions.marks import read, remembered, summarised
from panels.editions.wire import WIRE_2026
from panels.rules.edition import each
from panels.rules.sourced import Sourced
from panels.rules.tables import Tiers

COURSE = "a state-approved continuing-education course on the 2026 code"
SUMMARY = "a trade magazine's summary of the 2026 changes"


def _moved(sourced: Sourced[Any]) -> Sourced[Any]:
    """Article 220 became Article 120; the sections kept their numbers within it."""
    return replace(sourced, cite=re.sub(r"\b220(?=\.)", "120", sourced.cite))


_BEFORE = each(ED2023, _moved)

ED2026 = replace(
    _BEFORE,
    key="2026",
    title="NFPA 70-2026",
    basis=(
        "The text of this edition was not read in full. Article 220 is now Article 120; section"
        " numbers follow that move. Values without a mark are those of earlier editions; confirm"
        " them against the printed code of 2026."
    ),
    lighting=replace(
        _BEFORE.lighting,
        unit_load=read(Q(2.0, "VA/ft**2"), "120.41", in_=f"{COURSE}; {SUMMARY}"),
        unit_load_for_circuits=read(Q(3.0, "VA/ft**2"), "120.13", in_=COURSE),
    ),
    vehicles=replace(
        _BEFORE.vehicles,
        least=summarised(Q(0.0, "VA"), "120.57", in_=SUMMARY),
        if_unknown=summarised(Q(7200.0, "VA"), "120.57", in_=SUMMARY),
        within_optional_tiers=summarised(False, "120.82", in_=SUMMARY),
    ),
    managed=replace(
        _BEFORE.managed,
        allowed=summarised(True, "120.7, 750.30", in_="a trade magazine on load control"),
    ),
    optional=replace(
        _BEFORE.optional,
        demand=read(Tiers(slices=((Q(8000.0, "VA"), 1.0), (None, 0.40))), "120.82(B)", in_=SUMMARY),
    ),
    existing=replace(
        _BEFORE.existing,
        demand=remembered(
            _BEFORE.existing.demand.value, "120.83", "The 2026 text of this section was not seen."
        ),
    ),
    recorded=each(
        _BEFORE.recorded,
        lambda one: remembered(one.value, one.cite, "The 2026 text of this section was not seen."),
    ),
    wire=WIRE_2026,
    fault=FAULT_2026,
    checks=CHECKS_2026,
)
