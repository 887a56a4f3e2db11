"""Can each run be driven and worked by the clock, within the day and everyone's shift?"""

from __future__ import annotations

from itertools import pairwise

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.telling import told
from jobs.planning.checking.timeline import Timeline, timeline
from jobs.planning.checking.violations import Found, Rule
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


def _one_after_another(reading: Reading, run: Run, clock: Timeline) -> Found:
    for before, leg in pairwise(clock.legs):
        start = leg.stop.start
        if start >= max(before.ends, leg.arrives):
            continue
        if start < before.ends:
            code = Rule.OVERLAP
            words = gettext_noop(
                "{who} would start {visit} on {at}, while at {before} until {ends}."
            )
        else:
            code = Rule.TRAVEL
            words = gettext_noop(
                "{who} would start {visit} on {at}; coming from {before} the earliest is {there}."
            )
        yield told(
            reading, code, words, visits=[leg.visit.key, before.visit.key], people=run.people,
            day=run.day, at=start, before=reading.name(before.visit.key),
            ends=reading.hour(before.ends), there=reading.hour(leg.arrives),
        )  # fmt: skip


def _breaks(reading: Reading, run: Run, clock: Timeline) -> Found:
    for leg in clock.legs:
        for pause in reading.breaks(run):
            if pause.start <= leg.stop.start < pause.end:
                words = gettext_noop(
                    "{who} would start {visit} on {at}, in the break until {until}."
                )
                yield told(
                    reading, Rule.BREAK, words, visits=[leg.visit.key], people=run.people,
                    day=run.day, at=leg.stop.start, until=reading.hour(pause.end),
                )  # fmt: skip


def _day(reading: Reading, run: Run, clock: Timeline) -> Found:
    span = reading.days[run.day].span
    if clock.leaves < span.start:
        words = gettext_noop("{who} would leave for {visit} before {on} begins at {begins}.")
        yield told(
            reading, Rule.DAY, words, visits=[clock.legs[0].visit.key], people=run.people,
            day=run.day, begins=reading.hour(span.start),
        )  # fmt: skip
    if clock.back > span.end:
        words = gettext_noop("{who} would be back from {visit} after {on} is over at {over}.")
        yield told(
            reading, Rule.DAY, words, visits=[clock.legs[-1].visit.key], people=run.people,
            day=run.day, over=reading.hour(span.end),
        )  # fmt: skip


def _shifts(reading: Reading, run: Run, clock: Timeline) -> Found:
    for person in reading.crew(run):
        shift = person.shifts.get(run.day)
        if shift and clock.leaves < shift.start:
            words = gettext_noop("{who} would leave for {visit} on {at}, before their shift.")
            yield told(
                reading, Rule.SHIFT, words, visits=[clock.legs[0].visit.key],
                people=[person.key], day=run.day, at=clock.leaves,
            )  # fmt: skip
        if shift and clock.back > shift.end + person.overtime:
            words = gettext_noop(
                "{who} would be back from {visit} on {at}; with all overtime they may stay out "
                "until {until}."
            )
            yield told(
                reading, Rule.SHIFT, words, visits=[clock.legs[-1].visit.key],
                people=[person.key], day=run.day, at=clock.back,
                until=reading.hour(shift.end + person.overtime),
            )  # fmt: skip
