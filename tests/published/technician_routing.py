"""Technician routing and scheduling (Pillac, Guéret and Medaglia): one day, one person a run.

Node 0 is the main depot, then the technicians' homes, then the requests. Distances are Euclidean
and count as times. Ours are whole numbers: SCALE of them to a unit, rounded up, so that what is
on time here is on time there, and no route is longer here by more than 1/SCALE for each drive
(less than 0.001 % of any best known duration). `Instance.value` is reckoned in real numbers.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from jobs.planning.problem import Day, Need, Person, Plan, Problem, Run, Span, Visit
from tests.published.instance import Instance, best_known

SCALE = 10_000
SOURCE = "each recomputed from its published route and found feasible; later papers not checked"
LATE = 1e-6  # of a unit: rounding of real numbers


@dataclass(frozen=True)
class Node:
    """One line: where, its window, and what it takes or what its technician has."""

    x: float
    y: float
    opens: int
    closes: int
    service: int
    skills: frozenset[int]
    tools: frozenset[int]
    parts: Sequence[int]

    def to(self, other: Node) -> float:
        return math.hypot(self.x - other.x, self.y - other.y)


def names(data: Path) -> list[str]:
    return sorted(file.stem for file in data.glob("*.txt"))


def read(file: Path) -> Instance:
    """The instance in a file; `best_known.csv` beside it is read where there is one."""
    technicians, nodes = read_nodes(file)
    day = Day(index=0, span=_span(nodes[0]), name="the day")
    people = [_person(n, nodes[n]) for n in range(1, technicians + 1)]
    visits = [_visit(n, nodes[n]) for n in range(technicians + 1, len(nodes))]
    problem = Problem(
        days=[day],
        people=people,
        visits=visits,
        travel=[[_rounded_up(a.to(b)) for b in nodes] for a in nodes],
        crews=[frozenset({person.key}) for person in people],
        regroup=False,
        depot=0,
        objective="duration",
        per_hour=None,
    )
    known = best_known(file.parent, file.stem)
    return Instance(file.stem, problem, lambda plan: duration(nodes, plan), known, SOURCE)


def read_nodes(file: Path) -> tuple[int, list[Node]]:
    """How many technicians there are, and every node in order."""
    lines = file.read_text().splitlines()
    sizes = next(n for n, line in enumerate(lines) if line.startswith("CREW COUNT"))
    nodes = [found for line in lines if (found := _node(line))]
    return int(lines[sizes + 1].split()[0]), nodes


def _node(line: str) -> Node | None:
    found = re.fullmatch(r"\s*((?:[\d.]+\s+){6})(\[.*?\])\s*(\[.*?\])\s*(\[.*?\])\s*", line)
    if found is None:
        return None
    _, x, y, opens, closes, service = map(float, found[1].split())
    skills, tools, parts = (ast.literal_eval(found[n]) for n in (2, 3, 4))
    times = int(opens), int(closes), int(service)
    return Node(x, y, *times, frozenset(skills), frozenset(tools), parts)


def _rounded_up(distance: float) -> int:
    """The square root of a square is exact, so whole distances stay whole."""
    return math.ceil(distance * SCALE)


def _span(node: Node) -> Span:
    return Span(start=node.opens * SCALE, end=node.closes * SCALE)


def _person(n: int, node: Node) -> Person:
    return Person(
        key=str(n),
        levels={str(skill): 1 for skill in node.skills},
        home=n,
        shifts={0: _span(node)},
        carries=frozenset(map(str, node.tools)),
        parts={str(part): count for part, count in enumerate(node.parts)},
    )


def _visit(n: int, node: Node) -> Visit:
    return Visit(
        key=str(n),
        place=n,
        duration=node.service * SCALE,
        needs=[Need(domain=str(skill)) for skill in sorted(node.skills)],
        windows=[_span(node)],
        optional=False,
        needs_tools=frozenset(map(str, node.tools)),
        needs_parts={str(part): count for part, count in enumerate(node.parts) if count},
    )


def duration(nodes: Sequence[Node], plan: Plan) -> float:
    """Sum over the runs of their length when each starts at its best time, in real numbers."""
    return sum(_length([nodes[n] for n in _route(run)]) for run in plan.runs if run.stops)


def _route(run: Run) -> list[int]:
    """Home, the requests with the depot where it is called at, home."""
    (person,) = run.people
    stops = [node for stop in run.stops for node in ([0] * stop.stock_up + [int(stop.visit)])]
    return [int(person), *stops, int(person)]


def _length(route: Sequence[Node]) -> float:
    """As early as possible to the end, then as late as possible back to the start."""
    end = float(route[0].opens)
    for here, there in pairwise(route):
        end = max(there.opens, end + here.service + here.to(there))
        if end > there.closes + LATE:
            raise ValueError("the route comes to a place after it closes")
    start = end
    for there, here in pairwise(reversed(route)):
        start = min(here.closes, start - here.to(there) - here.service)
    return end - start
