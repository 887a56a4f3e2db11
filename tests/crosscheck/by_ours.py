"""The currents by the rules of the project, keyed by place and kind of fault."""

from __future__ import annotations

from panels.editions import edition
from panels.rules.fault.answer import read, study
from tests.crosscheck.cases import Case

Currents = dict[tuple[str, str], float]


def currents(case: Case) -> Currents:
    found: Currents = {}
    for place in study(read(case.plain), edition("2017")).places:
        name = "service" if place.box is None else place.name
        if place.three_phase is not None:
            found[name, "3ph"] = place.three_phase
        found[name, "ll"] = place.line_to_line
        if place.to_neutral is not None:
            found[name, "ln"] = place.to_neutral
    return found


def point_to_point(case: Case) -> Currents:
    found: Currents = {}
    for place in study(read(case.plain), edition("2017")).places:
        name = "service" if place.box is None else place.name
        found[name, "3ph" if place.three_phase is not None else "ll"] = place.points.lines_a
        if place.points.to_neutral is not None:
            found[name, "ln"] = place.points.to_neutral
    return found
