"""May the people of a run go out together, and do they have what each of its visits asks?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.telling import told
from jobs.planning.checking.violations import Found, Rule, Violation
from jobs.planning.problem import Run, Stop, Visit
from jobs.planning.words import gettext_noop


def present(reading: Reading) -> Found:
    """Everyone sent out works that day; where crews stand, nobody is sent out of theirs."""
    problem = reading.problem
    for run in reading.plan.runs:
        for person in reading.crew(run):
            if run.day in reading.days and run.day not in person.shifts:
                words = gettext_noop("{who} is away on {on}.")
                yield told(reading, Rule.PRESENT, words, people=[person.key], day=run.day)
        if not problem.regroup and not any(run.people <= crew for crew in problem.crews):
            words = gettext_noop(
                "{who} on {on}: these are not people of one crew as the crews stand."
            )
            yield told(reading, Rule.AS_GROUPED, words, people=run.people, day=run.day)


def supervised(reading: Reading) -> Found:
    """On each run the learning are no more than the licensed may have beside them."""
    rule = reading.problem.supervision
    if rule is None:
        return
    for run in reading.plan.runs:
        crew = reading.crew(run)
        learning = [person for person in crew if person.level(rule.domain) < rule.level]
        may = (len(crew) - len(learning)) * rule.each
        if len(learning) > may:
            words = gettext_noop(
                "{who} on {on}: {many} without level {level} in {domain}, and those who have it "
                "may supervise {may} ({source})."
            )
            yield told(
                reading, Rule.SUPERVISED, words, people=run.people, day=run.day,
                many=len(learning), level=rule.level, domain=rule.domain, may=may,
                source=rule.source,
            )  # fmt: skip


def able(reading: Reading) -> Found:
    """Each crew has the heads, licences, tools and parts of each of its visits."""
    for run in reading.plan.runs:
        for stop in run.stops:
            if stop.visit in reading.visits:
                yield from _heads_and_levels(reading, run, stop, reading.visits[stop.visit])
        yield from _things(reading, run)


def _of(
    reading: Reading, code: Rule, words: str, run: Run, stop: Stop, **values: object
) -> Violation:
    return told(
        reading, code, words, visits=[stop.visit], people=run.people, day=run.day, at=stop.start,
        **values,
    )  # fmt: skip


def _heads_and_levels(reading: Reading, run: Run, stop: Stop, visit: Visit) -> Found:
    crew = reading.crew(run)
    if not crew:
        words = gettext_noop("Nobody goes to {visit} on {at}.")
        yield _of(reading, Rule.SOMEBODY, words, run, stop)
        return
    if len(crew) < visit.heads:
        words = gettext_noop("{visit} on {at} needs {heads} people and has {who}.")
        yield _of(reading, Rule.HEADS, words, run, stop, heads=visit.heads)
    for need in visit.needs:
        have = sum(1 for person in crew if person.level(need.domain) >= need.level)
        if have < need.count:
            words = gettext_noop(
                "{visit} on {at} needs {count} of level {level} or above in {domain}; "
                "of {who} there are {have}."
            )
            yield _of(
                reading, Rule.LEVELS, words, run, stop, count=need.count, level=need.level,
                domain=need.domain, have=have,
            )  # fmt: skip


def _things(reading: Reading, run: Run) -> Found:
    """Tools they carry, parts counted down from visit to visit; neither ends after the depot."""
    crew, depot = reading.crew(run), reading.problem.depot
    tools = frozenset[str]().union(*(person.carries for person in crew))
    parts = Counter[str]()
    for person in crew:
        parts.update(person.parts)
    for stop in run.stops:
        if stop.stock_up and depot is not None:
            return
        if stop.stock_up:
            words = gettext_noop(
                "{who} would stock up on the way to {visit} on {at}; there is no depot."
            )
            yield _of(reading, Rule.DEPOT, words, run, stop)
        if stop.visit in reading.visits:
            visit = reading.visits[stop.visit]
            parts.subtract(visit.needs_parts)
            yield from _short(reading, run, stop, visit.needs_tools - tools, parts)


def _short(
    reading: Reading, run: Run, stop: Stop, missing: frozenset[str], left: Mapping[str, int]
) -> Found:
    if missing:
        words = gettext_noop("{who} would come to {visit} on {at} without {missing}.")
        yield _of(reading, Rule.TOOLS, words, run, stop, missing=reading.names(missing))
    needed = reading.visits[stop.visit].needs_parts
    if short := [part for part in needed if needed[part] and left[part] < 0]:
        words = gettext_noop("{who} would have too few of {short} left for {visit} on {at}.")
        yield _of(reading, Rule.PARTS, words, run, stop, short=reading.names(short))
