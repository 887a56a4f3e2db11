"""Does a plan name only days, people and visits that there are, each visit as often as asked?"""

from __future__ import annotations

from collections import Counter

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.telling import told
from jobs.planning.checking.violations import Found, Rule
from jobs.planning.words import gettext_noop


def known(reading: Reading) -> Found:
    """Every day, person and visit of the plan is one of the problem's."""
    for run in reading.plan.runs:
        if run.day not in reading.days:
            words = gettext_noop("{on} has a run, but it is no day of this problem.")
            yield told(reading, Rule.KNOWN_DAY, words, day=run.day)
        for key in sorted(run.people - reading.people.keys()):
            words = gettext_noop("{who} is sent out on {on} and is not one of the firm’s people.")
            yield told(reading, Rule.KNOWN_PERSON, words, people=[key], day=run.day)
        for stop in run.stops:
            if stop.visit not in reading.visits:
                words = gettext_noop("{visit} is planned on {on} and there is no such visit.")
                yield told(reading, Rule.KNOWN_VISIT, words, visits=[stop.visit], day=run.day)


def as_often_as_asked(reading: Reading) -> Found:
    """Each planned visit stands once on as many runs as it needs crews."""
    for visit, standings in reading.planned:
        times, runs = len(standings), len({id(each.run) for each in standings})
        if runs < times or times > visit.crews:
            code = Rule.ONCE
            words = gettext_noop(
                "{visit} is planned {times} times, first on {at}; it needs {crews}."
            )
        elif times < visit.crews:
            code = Rule.CREWS
            words = gettext_noop("{visit} on {at} needs {crews} crews at once and has {times}.")
        else:
            continue
        yield told(
            reading, code, words, visits=[visit.key], day=standings[0].run.day,
            at=standings[0].start, times=times, crews=visit.crews,
        )  # fmt: skip


def one_run_a_day(reading: Reading) -> Found:
    """Nobody stands in two runs of a day."""
    runs = Counter((run.day, key) for run in reading.plan.runs for key in run.people)
    for (day, key), times in sorted(runs.items()):
        if times > 1:
            words = gettext_noop("{who} stands in {times} runs on {on}.")
            yield told(reading, Rule.ONE_RUN, words, people=[key], day=day, times=times)
