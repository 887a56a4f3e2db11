"""Are the routing instances read as they are, checked by their own rules, and rounded harmlessly?

The second reckoning here works in real numbers and knows nothing of the planner.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from dataclasses import replace

import pytest

from jobs.planning.checking.check import check
from jobs.planning.checking.violations import Rule
from jobs.planning.problem import Plan, Run, Stop
from tests.published.instance import DATA, MISSING, Instance
from tests.published.technician_routing import SCALE, Node, duration, names, read, read_nodes

FOLDER = DATA / "trsp"
NAMES = names(FOLDER) or ["none"]
pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason=MISSING)


def nearest_first(instance: Instance, nodes: list[Node], *, stock_up: bool) -> Plan:
    """Each technician goes from request to the nearest next one that can be reached in time."""
    problem, served, runs = instance.problem, set[str](), []
    visits = {visit.key: visit for visit in problem.visits}
    for person in problem.people:
        here, now, stops = person.home, 0, list[Stop]()
        while True:
            by_depot = stock_up and not stops
            found = []
            for visit in visits.values():
                if visit.key in served or any(not person.level(n.domain) for n in visit.needs):
                    continue
                way = problem.travel[here][visit.place]
                if by_depot:
                    way = problem.travel[here][0] + problem.travel[0][visit.place]
                start = max(now + way, visit.windows[0].start)
                back = start + visit.duration + problem.travel[visit.place][person.home]
                if start <= visit.windows[0].end and back <= person.shifts[0].end:
                    found.append((start, visit.key))
            if not found:
                break
            start, key = min(found)
            served.add(key)
            stops.append(Stop(visit=key, start=start, stock_up=by_depot))
            here, now = visits[key].place, start + visits[key].duration
        if stops:
            # As late as the next start allows, so that nobody waits without need.
            runs.append(Run(day=0, people=frozenset({person.key}), stops=late(instance, stops)))
    return Plan(runs=runs)


def late(instance: Instance, stops: list[Stop]) -> list[Stop]:
    visits = {visit.key: visit for visit in instance.problem.visits}
    made = stops[-1:]
    for stop in reversed(stops[:-1]):
        visit, following = visits[stop.visit], made[0]
        way = instance.problem.travel[visit.place][visits[following.visit].place]
        start = min(visit.windows[0].end, following.start - way - visit.duration)
        made.insert(0, replace(stop, start=start))
    return made


def feasible(nodes: list[Node], plan: Plan) -> bool:
    """By the specification: skills, windows in real numbers, tools and parts until the depot."""
    for run in plan.runs:
        (who,) = map(int, run.people)
        mine, here, now, stocked = nodes[who], nodes[who], -math.inf, False
        parts = Counter(dict(enumerate(mine.parts)))
        for stop in run.stops:
            node = nodes[int(stop.visit)]
            stocked = stocked or stop.stock_up
            way = here.to(nodes[0]) + nodes[0].to(node) if stop.stock_up else here.to(node)
            start = stop.start / SCALE
            left = mine.opens if now == -math.inf else now
            if start < left + way - 1e-6 or not node.opens <= start <= node.closes:
                return False
            if not node.skills <= mine.skills:
                return False
            parts.subtract(dict(enumerate(node.parts)))
            if not stocked and (not node.tools <= mine.tools or min(parts.values()) < 0):
                return False
            here, now = node, start + node.service
        if now + here.to(mine) > mine.closes + 1e-6:
            return False
    return True


@pytest.mark.parametrize("name", NAMES)
def test_everything_in_the_file_is_in_the_problem(name: str) -> None:
    instance = read(FOLDER / f"{name}.txt")
    technicians, nodes = read_nodes(FOLDER / f"{name}.txt")
    assert (technicians, len(nodes)) == (25, 126)
    assert (len(instance.problem.people), len(instance.problem.visits)) == (25, 100)
    assert instance.best_known
    for node, person in zip(nodes[1:26], instance.problem.people, strict=True):
        assert {int(skill) for skill in person.levels} == node.skills
    for node, visit in zip(nodes[26:], instance.problem.visits, strict=True):
        assert sum(visit.needs_parts.values()) == sum(node.parts)


@pytest.mark.parametrize("stock_up", [True, False])
@pytest.mark.parametrize("name", NAMES)
def test_the_checker_agrees_with_the_specification(name: str, stock_up: bool) -> None:
    instance = read(FOLDER / f"{name}.txt")
    nodes = read_nodes(FOLDER / f"{name}.txt")[1]
    plan = nearest_first(instance, nodes, stock_up=stock_up)
    assert sum(len(run.stops) for run in plan.runs) > 60
    codes = {each.code for each in check(instance.problem, plan).violations} - {Rule.REQUIRED}
    assert codes <= {Rule.TOOLS, Rule.PARTS}
    assert (not codes) == feasible(nodes, plan)
    assert bool(codes) != stock_up
    dice = random.Random(name)
    for _ in range(30):
        other = spoiled(plan, dice)
        found = {each.code for each in check(instance.problem, other).violations}
        assert (found <= {Rule.REQUIRED}) == feasible(nodes, other), found


def spoiled(plan: Plan, dice: random.Random) -> Plan:
    """One run changed at random: its starts, its call at the depot, its person, or a stop less."""
    runs = list(plan.runs)
    n = dice.randrange(len(runs))
    stops = list(runs[n].stops)
    k, kind = dice.randrange(len(stops)), dice.randrange(4)
    if kind == 0:
        stops[k] = replace(stops[k], start=stops[k].start + dice.choice([-9, -1, 1, 9]) * SCALE)
    elif kind == 1:
        stops[0] = replace(stops[0], stock_up=not stops[0].stock_up)
    elif kind == 2:
        del stops[k]
    people = runs[n].people
    if kind == 3:
        runs[n - 1], people = replace(runs[n - 1], people=people), runs[n - 1].people
    runs[n] = replace(runs[n], stops=stops, people=people)
    return Plan(runs=[run for run in runs if run.stops])


@pytest.mark.parametrize("name", NAMES)
def test_rounding_changes_a_duration_by_less_than_a_thousandth_of_a_percent(name: str) -> None:
    instance = read(FOLDER / f"{name}.txt")
    nodes = read_nodes(FOLDER / f"{name}.txt")[1]
    plan = nearest_first(instance, nodes, stock_up=True)
    ours = check(instance.problem, plan).terms["duration"] / SCALE
    assert 0 <= ours - instance.value(plan) < 1e-5 * instance.value(plan)
    # A plan has a drive to each of 100 requests, and each of 25 home and by the depot.
    drives = 100 + 25 + 25
    assert instance.best_known
    assert drives / SCALE / instance.best_known < 1e-5


def test_the_best_start_leaves_no_needless_waiting() -> None:
    """Home at (0, 0), a request 3 and 4 off that opens at 100 and takes 10: 5 + 10 + 5."""
    none = frozenset[int]()
    depot = Node(9, 9, 0, 200, 0, none, none, [])
    home, request = replace(depot, x=0, y=0), Node(3, 4, 100, 150, 10, none, none, [])
    run = Run(day=0, people=frozenset({"1"}), stops=[Stop(visit="2", start=100)])
    assert duration([depot, home, request], Plan(runs=[run])) == pytest.approx(20)
    late = Node(3, 4, 0, 2, 10, none, none, [])
    with pytest.raises(ValueError, match="after it closes"):
        duration([depot, home, late], Plan(runs=[run]))
