"""ROADEF 2007 challenge: technicians in teams made up anew each day, interventions in order.

Rules as rebuilt from the challenge's questions and answers and a later restatement; the original
subject was not seen. A day has 120 units and days follow each other without a gap, so that times
across days compare as the challenge compares them: 120 x (day - 1) + start.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from jobs.planning.checking.check import check
from jobs.planning.problem import After, Day, Need, Person, Problem, Span, Visit
from tests.published.instance import Instance, best_known

DAY = 120
# Best known values, read in one published repository; A1 to A6 reached and A1 to A4 proved
# optimal within eight or nine days by a plain constraint model.
SOURCE = "one published repository"
BEST_KNOWN = {
    "A1": 2340, "A2": 4755, "A3": 11880, "A4": 13452, "A5": 28845, "A6": 18795, "A7": 30540,
    "A8": 16920, "B1": 33900, "B2": 15870, "B3": 16005, "B4": 23775, "B5": 88680,
}  # fmt: skip


@dataclass(frozen=True)
class Sizes:
    """The one line of the file `instance`."""

    domains: int
    levels: int
    technicians: int
    interventions: int
    leave_out: int


def names(data: Path) -> list[str]:
    """The instances there: folders with their three files."""
    return sorted(file.parent.name for file in data.glob("*/interv_list"))


def read(folder: Path, days: int | None = None) -> Instance:
    """The instance in a folder, over so many days (None: as many as `horizon` says)."""
    sizes = read_sizes(folder)
    visits = [_visit(line, sizes) for line in _lines(folder / "interv_list")]
    rows = [_technician(line, sizes) for line in _lines(folder / "tech_list")]
    span = range(days or horizon(visits, rows))
    problem = Problem(
        days=[Day(index=day, span=_whole(day), name=f"day {day + 1}") for day in span],
        people=[
            Person(
                key=key, levels=levels, shifts={day: _whole(day) for day in span if day not in off}
            )
            for key, levels, off in rows
        ],
        visits=visits,
        travel=[[0]],
        home_travel=False,
        may_cost=sizes.leave_out,
        objective="completion",
        per_hour=None,
    )
    known = best_known(folder.parent, folder.name) or BEST_KNOWN.get(folder.name)
    return Instance(
        folder.name, problem, lambda plan: check(problem, plan).terms["completion"], known, SOURCE
    )


def read_sizes(folder: Path) -> Sizes:
    _name, *numbers = next(_lines(folder / "instance")).split()
    return Sizes(*map(int, numbers))


def horizon(visits: Sequence[Visit], rows: Sequence[tuple[str, dict[str, int], set[int]]]) -> int:
    """Days that leave three times the room the scarcest skill needs, and a week.

    A plan over more days than it takes is no worse; most plans end in a third of these.
    """
    busy: dict[tuple[str, int], int] = {}
    for visit in visits:
        for need in visit.needs:
            skill = need.domain, need.level
            busy[skill] = busy.get(skill, 0) + visit.duration * need.count
    have = {
        (domain, level): sum(1 for _, levels, _ in rows if levels[domain] >= level)
        for domain, level in busy
    }
    return 7 + max(-(-3 * busy[skill] // (DAY * max(1, have[skill]))) for skill in busy)


def _whole(day: int) -> Span:
    return Span(start=DAY * day, end=DAY * (day + 1))


def _lines(file: Path) -> Iterator[str]:
    """Without the heading and empty lines."""
    return (line for line in file.read_text().splitlines()[1:] if line.strip())


def _visit(line: str, sizes: Sizes) -> Visit:
    """`number time [ preds ] prio cost` and the heads needed, by domain and in it by level."""
    found = re.fullmatch(r"\s*(\d+)\s+(\d+)\s+\[([\d\s]*)\]\s+(\d+)\s+(\d+)\s+([\d\s]+)", line)
    if found is None:
        raise ValueError(f"not an intervention: {line!r}")
    number, time, before, priority, cost, heads = found.groups()
    needs = [
        Need(domain=str(n // sizes.levels + 1), level=n % sizes.levels + 1, count=count)
        for n, count in enumerate(map(int, heads.split()))
        if count
    ]
    return Visit(
        key=number,
        duration=int(time),
        after=[After(visit=each) for each in before.split()],
        priority=int(priority),
        cost=int(cost),
        needs=needs,
    )


def _technician(line: str, sizes: Sizes) -> tuple[str, dict[str, int], set[int]]:
    """`number level_1 .. level_D [ days away ]`, days counted from 1 there and from 0 here."""
    found = re.fullmatch(r"\s*(?:tech)?(\d+)\s+([\d\s]+)\[([\d\s]*)\]\s*", line)
    if found is None:
        raise ValueError(f"not a technician: {line!r}")
    key, levels, away = found.groups()
    by_domain = {str(n + 1): int(level) for n, level in enumerate(levels.split())}
    if len(by_domain) != sizes.domains:
        raise ValueError(f"{sizes.domains} domains and {len(by_domain)} levels: {line!r}")
    return key, by_domain, {int(day) - 1 for day in away.split()}
