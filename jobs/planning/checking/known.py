"""Does a plan name only days, people and visits that there are, each visit as often as asked?"""

from __future__ import annotations

from collections import Counter

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.violations import Found, Rule, found
from jobs.planning.words import gettext_noop


def known(reading: Reading) -> Found:
    """Every day, person and visit of the plan is one of the problem's."""
    for run in reading.plan.runs:
        on = reading.day_name(run.day)
        if run.day not in reading.days:
            words = gettext_noop("{on} has a run, but it is no day of this problem.")
            yield found(Rule.KNOWN_DAY, words, day=run.day, on=on)
        for key in sorted(run.people - reading.people.keys()):
            words = gettext_noop("{who} is sent out on {on} and is not one of the firm’s people.")
            yield found(Rule.KNOWN_PERSON, words, people=[key], day=run.day, who=key, on=on)
        for stop in run.stops:
            if stop.visit not in reading.visits:
                words = gettext_noop("{visit} is planned on {on} and there is no such visit.")
                yield found(
                    Rule.KNOWN_VISIT,
                    words,
                    visits=[stop.visit],
                    day=run.day,
                    visit=stop.visit,
                    on=on,
                )


def as_often_as_asked(reading: Reading) -> Found:
    """Each planned visit stands once on as many runs as it needs crews."""
    for visit, standings in reading.planned:
        about = {"visits": [visit.key], "visit": reading.name(visit.key)}
        first, times, runs = standings[0], len(standings), len({id(s.run) for s in standings})
        if runs < times or times > visit.crews:
            words = gettext_noop(
                "{visit} is planned {times} times, first on {at}; it needs {crews}."
            )
            yield found(
                Rule.ONCE, words, day=first.run.day, times=times, at=reading.at(first.start),
                crews=visit.crews, **about,
            )  # fmt: skip
        elif times < visit.crews:
            words = gettext_noop("{visit} on {at} needs {crews} crews at once and has {times}.")
            yield found(
                Rule.CREWS, words, day=first.run.day, times=times, at=reading.at(first.start),
                crews=visit.crews, **about,
            )  # fmt: skip


def one_run_a_day(reading: Reading) -> Found:
    """Nobody stands in two runs of a day."""
    runs = Counter((run.day, key) for run in reading.plan.runs for key in run.people)
    for (day, key), times in sorted(runs.items()):
        if times > 1:
            words = gettext_noop("{who} stands in {times} runs on {on}.")
            yield found(
                Rule.ONE_RUN, words, people=[key], day=day, who=reading.name(key), times=times,
                on=reading.day_name(day),
            )  # fmt: skip
