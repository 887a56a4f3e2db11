"""Are the challenge's instances read as they are, and checked by the challenge's own rules?

The second reckoning here reads the files again and knows nothing of the planner.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from jobs.planning.checking.check import check
from jobs.planning.problem import Plan, Problem, Run, Stop
from tests.published import plans
from tests.published.instance import DATA, MISSING
from tests.published.roadef2007 import BEST_KNOWN, DAY, names, read

FOLDER = DATA / "roadef2007"
NAMES = names(FOLDER) or ["none"]
pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason=MISSING)


class Raw:
    """The three files as lists of numbers, and the rules as the challenge says them."""

    def __init__(self, folder: Path) -> None:
        head, tasks, staff = (
            (folder / file).read_text().split("\n")[1:]
            for file in ("instance", "interv_list", "tech_list")
        )
        self.domains, self.levels, _, _, self.budget = map(int, head[0].split()[1:])
        self.tasks = {}
        for line in filter(str.strip, tasks):
            left, right = line.split("[")
            before, rest = right.split("]")
            number, time = map(int, left.split())
            priority, cost, *heads = map(int, rest.split())
            self.tasks[number] = (time, list(map(int, before.split())), priority, cost, heads)
        self.staff = {}
        for line in filter(str.strip, staff):
            left, right = line.split("[")
            number, *levels = map(int, left.replace("tech", "").split())
            self.staff[number] = levels, set(map(int, right.replace("]", "").split()))

    def value(self, plan: Plan) -> int:
        ends = {key: start + self.tasks[key][0] for key, start, _, _ in self.starts(plan)}
        latest = [
            max((end for key, end in ends.items() if self.tasks[key][2] == p), default=0)
            for p in (1, 2, 3)
        ]
        weights = zip((28, 14, 4), latest, strict=True)
        return sum(weight * end for weight, end in weights) + max(ends.values(), default=0)

    def starts(self, plan: Plan) -> Iterator[tuple[int, int, int, frozenset[str]]]:
        for run in plan.runs:
            for stop in run.stops:
                yield int(stop.visit), stop.start, run.day, run.people

    def feasible(self, plan: Plan) -> bool:
        rows = list(self.starts(plan))
        start = {key: at for key, at, _, _ in rows}
        teams = [(run.day, int(key)) for run in plan.runs for key in run.people]
        if len(start) < len(rows) or len(set(teams)) < len(teams):
            return False
        if any(day + 1 in self.staff[who][1] for day, who in teams):
            return False
        for key, at, day, team in rows:
            time, before, _, _, heads = self.tasks[key]
            if not 0 <= at - DAY * day <= DAY - time:
                return False
            if any(b not in start or start[b] + self.tasks[b][0] > at for b in before):
                return False
            for n, least in enumerate(heads):
                domain, level = divmod(n, self.levels)
                if sum(self.staff[int(t)][0][domain] > level for t in team) < least:
                    return False
        for run in plan.runs:
            spans = sorted((s.start, s.start + self.tasks[int(s.visit)][0]) for s in run.stops)
            if any(b[0] < a[1] for a, b in pairwise(spans)):
                return False
        return sum(row[3] for key, row in self.tasks.items() if key not in start) <= self.budget


def by_one_team(problem: Problem) -> Plan:
    """Everybody who is there in one team, one intervention after another in a possible order."""
    todo, done, runs = list(problem.visits), set[str](), []
    for day in problem.days:
        team = [person for person in problem.people if day.index in person.shifts]
        now, stops = day.span.start, list[Stop]()
        for visit in list(todo):
            enough = all(
                sum(each.level(need.domain) >= need.level for each in team) >= need.count
                for need in visit.needs
            )
            ready = all(after.visit in done for after in visit.after)
            if enough and ready and now + visit.duration <= day.span.end:
                stops.append(Stop(visit=visit.key, start=now))
                now += visit.duration
                done.add(visit.key)
                todo.remove(visit)
        people = frozenset(person.key for person in team)
        runs.append(Run(day=day.index, people=people, stops=stops))
    return Plan(runs=runs)


def spoiled(plan: Plan, problem: Problem, dice: random.Random) -> Plan:
    """One thing changed at random; some changes break a rule and some do not."""
    runs = list(plan.runs)
    n = dice.choice([n for n, run in enumerate(runs) if run.stops])
    run, stops = runs[n], list(runs[n].stops)
    k = dice.randrange(len(stops))
    kind = dice.randrange(5)
    if kind == 0:
        stops[k] = replace(stops[k], start=stops[k].start + dice.choice([-15, -1, 1, 15, 60]))
    elif kind == 1:
        del stops[k]
    elif kind == 2:
        stops.append(replace(stops[k], start=stops[-1].start))
    elif kind == 3:
        gone = dice.sample(sorted(run.people), dice.randint(0, len(run.people) // 2))
        run = replace(run, people=run.people - set(gone))
    else:
        away = [each.key for each in problem.people if each.key not in run.people]
        run = replace(run, people=run.people | set(dice.sample(away, min(1, len(away)))))
    runs[n] = replace(run, stops=sorted(stops, key=lambda stop: stop.start))
    return Plan(runs=runs)


@pytest.mark.parametrize("name", NAMES)
def test_sizes_are_as_announced(name: str) -> None:
    problem = read(FOLDER / name).problem
    _, _, people, visits, budget = map(
        int, (FOLDER / name / "instance").read_text().splitlines()[1].split()[1:]
    )
    found = len(problem.people), len(problem.visits), problem.may_cost
    assert found == (people, visits, budget)
    assert all(after.visit in {v.key for v in problem.visits}
               for visit in problem.visits for after in visit.after)  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_the_checker_agrees_with_the_rules_of_the_challenge(name: str) -> None:
    days = 450 if name.startswith("B") else 60
    instance, raw = read(FOLDER / name, days=days), Raw(FOLDER / name)
    plan = by_one_team(instance.problem)
    assert check(instance.problem, plan).sound
    assert raw.feasible(plan)
    assert instance.value(plan) == raw.value(plan) > BEST_KNOWN[name]
    dice, verdicts = random.Random(name), set()
    for _ in range(4 if name.startswith("B") else 40):
        other = spoiled(plan, instance.problem, dice)
        checked = check(instance.problem, other)
        assert checked.sound == raw.feasible(other), [v.sentence for v in checked.violations]
        verdicts.add(checked.sound)
        if checked.sound:
            assert instance.value(other) == raw.value(other)
    assert False in verdicts


def by_hand() -> Plan:
    """A1 on its first day, when technician 2 is away: three teams side by side."""
    work = {"1": [("1", 0)], "34": [("5", 0)], "5": [("4", 0), ("3", 15), ("2", 30)]}
    return Plan(
        runs=[
            Run(
                day=0,
                people=frozenset(team),
                stops=[Stop(visit=visit, start=start) for visit, start in stops],
            )
            for team, stops in work.items()
        ]
    )


def test_a_plan_by_hand_for_the_smallest_is_worth_its_best_known_value() -> None:
    """Latest ends 60, 15 and 90: 28 x 60 + 14 x 15 + 4 x 90 + 90."""
    instance = read(FOLDER / "A1")
    assert check(instance.problem, by_hand()).sound
    assert instance.value(by_hand()) == instance.best_known == 2340


def test_a_plan_by_hand_with_one_too_few_is_told_so() -> None:
    instance, plan = read(FOLDER / "A1"), by_hand()
    alone = [replace(plan.runs[1], people=frozenset("3")), plan.runs[0], plan.runs[2]]
    (violation,) = check(instance.problem, Plan(runs=alone)).violations
    assert violation.sentence == (
        "5 on day 1, 0 needs 2 of level 1 or above in 2; of 3 there are 1."
    )


def test_a_plan_is_read_as_it_was_written() -> None:
    plan = by_one_team(read(FOLDER / "A3").problem)
    again = plans.read(plans.written(plan))
    assert plans.written(again) == plans.written(plan)
    assert [run.people for run in again.runs] == [run.people for run in plan.runs]
