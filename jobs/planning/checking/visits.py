"""Does each planned visit start when it may, and stand with the others as it has to?"""

from __future__ import annotations

from collections.abc import Sequence

from jobs.planning.checking.reading import Reading, Standing
from jobs.planning.checking.telling import told
from jobs.planning.checking.violations import Found, Rule, Violation
from jobs.planning.problem import After, Visit
from jobs.planning.words import gettext_noop


def when(reading: Reading) -> Found:
    """Windows, earliest start and holds, of every crew of a visit; a held visit is not planned."""
    for visit, standings in reading.planned:
        if visit.held:
            words = gettext_noop("{visit} is planned on {at} and may not be yet: {held}.")
            first = standings[0]
            yield _of(reading, Rule.HOLD, words, first, held=visit.held)
        for standing in standings:
            yield from _start(reading, visit, standing)


def _start(reading: Reading, visit: Visit, standing: Standing) -> Found:
    start = standing.start
    if visit.windows and not any(start in window for window in visit.windows):
        words = gettext_noop("{visit} starts on {at}, outside its windows ({windows}).")
        spans = [f"{reading.at(each.start)} – {reading.hour(each.end)}" for each in visit.windows]
        yield _of(reading, Rule.WINDOW, words, standing, windows="; ".join(spans))
    if start < visit.earliest:
        words = gettext_noop("{visit} starts on {at}; the earliest is {earliest}.")
        said = reading.at(visit.earliest)
        yield _of(reading, Rule.EARLIEST, words, standing, earliest=said)
    if start < visit.held_until:
        words = gettext_noop("{visit} starts on {at}, but is on hold until {until}.")
        yield _of(reading, Rule.HOLD, words, standing, until=reading.at(visit.held_until))


def pinned(reading: Reading) -> Found:
    """What is pinned to a day, to people or to a start stands there if it is planned."""
    for visit, standings in reading.planned:
        pin, first = visit.pin, standings[0]
        if pin is None:
            continue
        if pin.day is not None and any(each.run.day != pin.day for each in standings):
            words = gettext_noop("{visit} is planned on {at} and pinned to {pin}.")
            yield _of(reading, Rule.PIN, words, first, pin=reading.day_name(pin.day))
        if pin.start is not None and any(each.start != pin.start for each in standings):
            words = gettext_noop("{visit} is planned on {at} and pinned to {pin}.")
            yield _of(reading, Rule.PIN, words, first, pin=reading.at(pin.start))
        people = _people(standings)
        if pin.people is not None and people != pin.people:
            words = gettext_noop("{visit} on {at} has {all} and is pinned to {pin}.")
            pinned_to = reading.names(pin.people)
            yield _of(reading, Rule.PIN, words, first, pin=pinned_to, all=reading.names(people))


def at_once(reading: Reading) -> Found:
    """The crews of one visit start it at one time."""
    for visit, standings in reading.planned:
        starts = sorted({each.start for each in standings})
        if visit.crews > 1 and len(starts) > 1:
            words = gettext_noop("{visit} needs its crews at once; they start on {starts}.")
            said = "; ".join(map(reading.at, starts))
            yield _of(reading, Rule.AT_ONCE, words, standings[0], starts=said)


def together(reading: Reading) -> Found:
    """What is to have the same people as another visit has them, if both are planned."""
    for visit, standings in reading.planned:
        others = reading.standings.get(visit.together or "")
        if others is None:
            continue
        crews = {each.run.people for each in standings}
        if crews != {each.run.people for each in others}:
            words = gettext_noop("{visit} on {at} has {who}, but {other} has {those}; it is to be "
                                 "the same people.")  # fmt: skip
            those = reading.names(_people(others))
            yield told(
                reading, Rule.TOGETHER, words, visits=[visit.key, others[0].visit.key],
                people=_people(standings), day=standings[0].run.day, at=standings[0].start,
                other=reading.name(others[0].visit.key), those=those,
            )  # fmt: skip


def order(reading: Reading) -> Found:
    """A visit starts after those it comes after, no sooner and no later than its lags allow."""
    for visit, standings in reading.planned:
        for after in visit.after:
            if after.visit in reading.standings:
                yield from _lag(reading, standings, after)
            else:
                words = gettext_noop("{visit} is planned on {at}, but {before} before it is not.")
                name = reading.name(after.visit)
                yield _of(reading, Rule.AFTER_PLANNED, words, standings[0], before=name)


def _lag(reading: Reading, standings: list[Standing], after: After) -> Found:
    ended, before = reading.ended(after.visit), reading.name(after.visit)
    first = min(standings, key=lambda each: each.start)
    last = max(standings, key=lambda each: each.start)
    if first.start < ended + after.least:
        words = gettext_noop("{visit} starts on {at}; after {before} the earliest is {bound}.")
        bound = reading.at(ended + after.least)
        yield _of(reading, Rule.AFTER, words, first, before=before, bound=bound)
    if after.most is not None and last.start > ended + after.most:
        words = gettext_noop("{visit} starts on {at}; after {before} the latest is {bound}.")
        bound = reading.at(ended + after.most)
        yield _of(reading, Rule.SOON_AFTER, words, last, before=before, bound=bound)


def left_out(reading: Reading) -> Found:
    """Only what may be left out is, and together within what that may cost."""
    for visit in reading.left_out:
        if not visit.optional:
            words = gettext_noop("{visit} has to be done and is not planned.")
            yield told(reading, Rule.REQUIRED, words, visits=[visit.key])
    cost, may_cost = sum(visit.cost for visit in reading.left_out), reading.problem.may_cost
    if may_cost is not None and cost > may_cost:
        keys = [visit.key for visit in reading.left_out if visit.cost]
        words = gettext_noop("Leaving out {which} costs {cost} together; {may_cost} is allowed.")
        yield told(
            reading, Rule.LEAVE_OUT, words, visits=keys, which=reading.names(keys), cost=cost,
            may_cost=may_cost,
        )  # fmt: skip


def _people(standings: Sequence[Standing]) -> frozenset[str]:
    return frozenset[str]().union(*(each.run.people for each in standings))


def _of(
    reading: Reading, code: Rule, words: str, standing: Standing, **values: object
) -> Violation:
    """A violation about one visit where it stands."""
    run = standing.run
    return told(
        reading, code, words, visits=[standing.visit.key], people=run.people, day=run.day,
        at=standing.start, **values,
    )  # fmt: skip
