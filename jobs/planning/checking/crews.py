"""May the people of a run go out together, and do they have what each of its visits asks?"""

from __future__ import annotations

from collections import Counter

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.violations import Found, Rule, found
from jobs.planning.problem import Run, Stop, Visit
from jobs.planning.words import gettext_noop


def present(reading: Reading) -> Found:
    """Everyone sent out works that day; where crews stand, nobody is sent out of theirs."""
    problem = reading.problem
    for run in reading.plan.runs:
        for person in reading.crew(run):
            if run.day in reading.days and run.day not in person.shifts:
                words = gettext_noop("{who} is away on {on}.")
                yield found(
                    Rule.PRESENT, words, people=[person.key], day=run.day,
                    who=reading.name(person.key), on=reading.day_name(run.day),
                )  # fmt: skip
        if not problem.regroup and not any(run.people <= crew for crew in problem.crews):
            words = gettext_noop(
                "{who} on {on}: these are not people of one crew as the crews stand."
            )
            yield found(
                Rule.AS_GROUPED, words, people=run.people, day=run.day,
                who=reading.names(run.people), on=reading.day_name(run.day),
            )  # fmt: skip


def supervised(reading: Reading) -> Found:
    """On each run the learning are no more than the licensed may have beside them."""
    rule = reading.problem.supervision
    if rule is None:
        return
    for run in reading.plan.runs:
        crew = reading.crew(run)
        learning = [person.key for person in crew if person.level(rule.domain) < rule.level]
        may = (len(crew) - len(learning)) * rule.each
        if len(learning) > may:
            words = gettext_noop(
                "{who} on {on}: {many} without level {level} in {domain}, and those who have it "
                "may supervise {may} ({source})."
            )
            yield found(
                Rule.SUPERVISED, words, people=learning, day=run.day,
                who=reading.names(run.people), on=reading.day_name(run.day), many=len(learning),
                level=rule.level, domain=rule.domain, may=may, source=rule.source,
            )  # fmt: skip


def able(reading: Reading) -> Found:
    """Each crew has the heads, licences, tools and parts of each of its visits."""
    for run in reading.plan.runs:
        for stop in run.stops:
            if stop.visit in reading.visits:
                yield from _heads_and_levels(reading, run, stop, reading.visits[stop.visit])
        yield from _things(reading, run)


def _heads_and_levels(reading: Reading, run: Run, stop: Stop, visit: Visit) -> Found:
    crew = reading.crew(run)
    about = {
        "visits": [visit.key], "people": run.people, "day": run.day,
        "who": reading.names(run.people), "visit": reading.name(visit.key),
        "at": reading.at(stop.start),
    }  # fmt: skip
    if not crew:
        yield found(Rule.SOMEBODY, gettext_noop("Nobody goes to {visit} on {at}."), **about)
        return
    if len(crew) < visit.heads:
        words = gettext_noop("{visit} on {at} needs {heads} people and has {who}.")
        yield found(Rule.HEADS, words, heads=visit.heads, **about)
    for need in visit.needs:
        have = sum(1 for person in crew if person.level(need.domain) >= need.level)
        if have < need.count:
            words = gettext_noop(
                "{visit} on {at} needs {count} of level {level} or above in {domain}; "
                "of {who} there are {have}."
            )
            yield found(
                Rule.LEVELS, words, count=need.count, level=need.level, domain=need.domain,
                have=have, **about,
            )  # fmt: skip


def _things(reading: Reading, run: Run) -> Found:
    """Tools they carry, parts counted down from visit to visit; neither ends after the depot."""
    crew, depot = reading.crew(run), reading.problem.depot
    tools = frozenset().union(*(person.carries for person in crew))
    parts = Counter[str]()
    for person in crew:
        parts.update(person.parts)
    stocked = False
    for stop in run.stops:
        visit = reading.visits.get(stop.visit)
        about = {
            "visits": [stop.visit], "people": run.people, "day": run.day,
            "who": reading.names(run.people), "visit": reading.name(stop.visit),
            "at": reading.at(stop.start),
        }  # fmt: skip
        if stop.stock_up and depot is None:
            words = gettext_noop(
                "{who} would stock up on the way to {visit} on {at}; there is no depot."
            )
            yield found(Rule.DEPOT, words, **about)
        stocked = stocked or (stop.stock_up and depot is not None)
        if visit is None or stocked:
            continue
        if missing := visit.needs_tools - tools:
            words = gettext_noop("{who} would come to {visit} on {at} without {missing}.")
            yield found(Rule.TOOLS, words, missing=reading.names(missing), **about)
        parts.subtract(visit.needs_parts)
        if short := [
            part for part in visit.needs_parts if visit.needs_parts[part] and parts[part] < 0
        ]:
            words = gettext_noop("{who} would have too few of {short} left for {visit} on {at}.")
            yield found(Rule.PARTS, words, short=reading.names(short), **about)
