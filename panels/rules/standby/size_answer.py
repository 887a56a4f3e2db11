"""Is the standby source large enough for its transfer (702.4(B)), and if not, what then?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from contractor.units import Q
from panels.rules import methods
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.quantities import AMPERE, VA, show
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.sourced import Sourced
from panels.rules.standby.answer import beside, generator_lines
from panels.rules.standby.loads import Load
from panels.rules.standby.shown import kva, stage_label
from panels.rules.standby.sizing import AUTOMATIC, MANUAL, Sizing, amperes, sizing_from
from panels.rules.standby.sources import Generator
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "standby_size", "Size of an optional standby source"


def answer(sizing: Sizing, edition: Edition) -> Result:
    """What has to be carried against what the source gives, and the ways out."""
    needed, lines = _needed(sizing, edition)
    sections = [
        Section(title="What has to be carried", lines=tuple(lines)),
        Section(title="The source", lines=tuple(_source_lines(sizing, edition))),
        Section(title="Together", lines=tuple(_verdict(sizing, needed))),
        Section(title="Ways out", lines=tuple(_ways_out(sizing, needed, edition))),
        Section(title="Beside it", lines=beside(edition)),
    ]
    return assemble(KEY, TITLE, edition, sections, topics=("standby",))


def _needed(sizing: Sizing, edition: Edition) -> tuple[float, list[Line]]:
    """The VA the rule asks for, with its lines."""
    rules = edition.standby
    if sizing.transfer == MANUAL:
        each = [
            line(f"load_{number}", load.name, kva(load.apparent))
            for number, load in enumerate(sizing.chosen, 1)
        ]
        total = math.fsum(load.apparent for load in sizing.chosen)
        how = "all that is meant to run at one time, as the user chooses"
        return total, [*each, _asked(total, rules.manual, sizing, how)]
    if sizing.managed_at is not None:
        total = float(sizing.managed_at.m_as(VA))
        how = "the most the load management connects"
        return total, [_asked(total, rules.managed, sizing, how)]
    total, how = _calculated(sizing, edition)
    return total, [_asked(total, rules.automatic, sizing, how)]


def _calculated(sizing: Sizing, edition: Edition) -> tuple[float, str]:
    if sizing.calculated is not None:
        by = sizing.calculated_by or "as stated"
        return float(sizing.calculated.m_as(VA)), f"the full calculated load: {by}"
    if sizing.premises is None:
        raise BadDescription("calculated", "is missing.")
    result = methods.calculate(sizing.method, sizing.premises, edition)
    load = float(Q(result.value("load")).m_as(VA))
    return load, f"the full calculated load: {result.method_title}"


def _asked(total: float, rule: Sourced[float], sizing: Sizing, how: str) -> Line:
    current = show(Q(amperes(total, sizing.supply), AMPERE))
    return line("load", "Has to be carried", kva(total), rule, how=f"{how}: {current}", total=True)


def _source_lines(sizing: Sizing, edition: Edition) -> Iterator[Line]:
    volts = sizing.supply.line
    if isinstance(sizing.source, Generator):
        yield from generator_lines(sizing.source)
        plate = amperes(sizing.source.rating, sizing.supply)
        factor = edition.standby.conductor_factor
        yield line("plate_current", "Nameplate current", Q(plate, AMPERE), how=f"at {show(volts)}")
        how = f"{show(Q(plate, AMPERE))} × {factor.value:g}"
        carried = Q(round(plate * factor.value, 6), AMPERE)
        yield line("conductors", "Generator conductors carry at least", carried, factor, how=how)
    else:
        note = "The inverter's kW taken at a power factor of one."
        yield line("capacity", "Inverter, without a pause", kva(sizing.capacity), note=note)
    current = Q(amperes(sizing.capacity, sizing.supply), AMPERE)
    yield line("capacity_current", "Current it gives", current, how=f"at {show(volts)}")


def _verdict(sizing: Sizing, needed: float) -> Iterator[Line]:
    yield line("current", "Current to be carried", Q(amperes(needed, sizing.supply), AMPERE))
    left = sizing.capacity - needed
    verdict = "It is large enough." if left >= 0 else "It is too small."
    yield line("left", "Left over", kva(left), note=verdict, total=True)
    yield line("fits", "Large enough", "yes" if left >= 0 else "no", total=True)


def _ways_out(sizing: Sizing, needed: float, edition: Edition) -> Iterator[Line]:
    if needed <= sizing.capacity:
        return
    if isinstance(sizing.source, Generator):
        plate = kva(needed / sizing.source.left)
        yield line("larger", "A generator of at least, nameplate", plate, how="after derating")
    else:
        yield line("larger", "An inverter of at least", kva(needed))
    if sizing.transfer == AUTOMATIC:
        point = Q(math.floor(amperes(sizing.capacity, sizing.supply)), AMPERE)
        how = "at most, so that what it connects is within the source"
        what = "Load management set to"
        yield line("set_point", what, point, edition.standby.managed, how=how)
    yield from _shed(sizing.chosen, sizing.capacity)


def _shed(chosen: Sequence[Load], capacity: float) -> Iterator[Line]:
    """What to leave off, by shed order, until the rest fits."""
    orders = sorted({load.shed_order for load in chosen if load.shed_order})
    for stage in orders:
        rest = math.fsum(load.apparent for load in chosen if load.stays_on(stage))
        gone = ", ".join(load.name for load in chosen if load.shed_order == stage)
        fits = "fits" if rest <= capacity else "still too much"
        label = f"With {stage_label(stage)}"
        yield line(f"shed_{stage}", label, kva(rest), how=f"without {gone}: {fits}")
        if rest <= capacity:
            return


SIZING = Question(key=KEY, title=TITLE, read=sizing_from, answer=answer)
