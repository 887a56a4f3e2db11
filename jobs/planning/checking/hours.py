"""Can each run be driven and worked by the clock, within the day and everyone's shift?"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.timeline import Leg, Timeline, timeline
from jobs.planning.checking.violations import Found, Rule, found
from jobs.planning.problem import Run
from jobs.planning.words import gettext_noop


def hours(reading: Reading) -> Found:
    """Overlaps, drives, breaks, the day's span, shifts with overtime; runs of known days."""
    for run in reading.plan.runs:
        clock = timeline(reading, run)
        if clock is None or run.day not in reading.days:
            continue
        yield from _one_after_another(reading, run, clock)
        yield from _breaks(reading, run, clock)
        yield from _day(reading, run, clock)
        yield from _shifts(reading, run, clock)


def _about(reading: Reading, run: Run, *legs: Leg) -> Mapping[str, Any]:
    return {
        "visits": [leg.visit.key for leg in legs],
        "people": run.people,
        "day": run.day,
        "who": reading.names(run.people),
        "on": reading.day_name(run.day),
    }


def _one_after_another(reading: Reading, run: Run, clock: Timeline) -> Found:
    for before, leg in pairwise(clock.legs):
        about = {
            "visit": reading.name(leg.visit.key), "before": reading.name(before.visit.key),
            "at": reading.at(leg.stop.start), "ends": reading.hour(before.ends),
            **_about(reading, run, leg, before),
        }  # fmt: skip
        if leg.stop.start < before.ends:
            words = gettext_noop(
                "{who} would start {visit} on {at}, while at {before} until {ends}."
            )
            yield found(Rule.OVERLAP, words, **about)
        elif leg.stop.start < leg.arrives:
            words = gettext_noop(
                "{who} would start {visit} on {at}; coming from {before} the earliest is {there}."
            )
            yield found(Rule.TRAVEL, words, there=reading.hour(leg.arrives), **about)


def _breaks(reading: Reading, run: Run, clock: Timeline) -> Found:
    for leg in clock.legs:
        for pause in reading.breaks(run):
            if pause.start <= leg.stop.start < pause.end:
                words = gettext_noop(
                    "{who} would start {visit} on {at}, in the break until {until}."
                )
                yield found(
                    Rule.BREAK, words, visit=reading.name(leg.visit.key),
                    at=reading.at(leg.stop.start), until=reading.hour(pause.end),
                    **_about(reading, run, leg),
                )  # fmt: skip


def _day(reading: Reading, run: Run, clock: Timeline) -> Found:
    span, first, last = reading.days[run.day].span, clock.legs[0], clock.legs[-1]
    if clock.leaves < span.start:
        words = gettext_noop("{who} would leave for {visit} before {on} begins at {begins}.")
        yield found(
            Rule.DAY, words, visit=reading.name(first.visit.key),
            begins=reading.hour(span.start), **_about(reading, run, first),
        )  # fmt: skip
    if clock.back > span.end:
        words = gettext_noop("{who} would be back from {visit} after {on} is over at {over}.")
        yield found(
            Rule.DAY, words, visit=reading.name(last.visit.key), over=reading.hour(span.end),
            **_about(reading, run, last),
        )  # fmt: skip


def _shifts(reading: Reading, run: Run, clock: Timeline) -> Found:
    first, last = clock.legs[0], clock.legs[-1]
    for person in reading.crew(run):
        shift = person.shifts.get(run.day)
        about = {"who": reading.name(person.key), "people": [person.key], "day": run.day}
        if shift and clock.leaves < shift.start:
            words = gettext_noop("{who} would leave for {visit} at {leaves}, before their shift.")
            yield found(
                Rule.SHIFT, words, visits=[first.visit.key], leaves=reading.at(clock.leaves),
                visit=reading.name(first.visit.key), **about,
            )  # fmt: skip
        if shift and clock.back > shift.end + person.overtime:
            words = gettext_noop(
                "{who} would be back from {visit} at {back}; with all overtime they may stay out "
                "until {until}."
            )
            yield found(
                Rule.SHIFT, words, visits=[last.visit.key], back=reading.at(clock.back),
                visit=reading.name(last.visit.key),
                until=reading.hour(shift.end + person.overtime), **about,
            )  # fmt: skip
