"""What are days, times, people and visits called in a sentence?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from jobs.planning.problem import Problem
from jobs.planning.words import clock, listed


def day(problem: Problem, index: int) -> str:
    names = {each.index: each.name for each in problem.days}
    return names.get(index) or f"day {index}"


def people(problem: Problem, keys: Iterable[str]) -> str:
    names = {person.key: person.name for person in problem.people}
    return listed([names.get(key) or key for key in sorted(keys)])


def visit(problem: Problem, key: str) -> str:
    return next((each.name for each in problem.visits if each.key == key), "") or key


def hour(problem: Problem, time: int) -> str:
    """By the clock where units are known, else the number."""
    if problem.per_hour is None:
        return str(time)
    minutes = time * 60 // problem.per_hour % (24 * 60)
    return clock(dt.time(minutes // 60, minutes % 60))
