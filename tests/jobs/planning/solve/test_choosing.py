"""Does each problem come to the search that can plan it?"""

from __future__ import annotations

import dataclasses

from jobs.planning.problem import Visit
from jobs.planning.solve.choosing import solve
from tests.jobs.planning.solve.teams import town


def test_people_who_may_be_grouped_anew_are_and_crews_that_stand_are_not() -> None:
    visits = [Visit(key="a", heads=2, duration=30, priority=1, cost=1)]
    people = [town.person("ann"), town.person("bob")]
    anew = town.problem(people, visits)
    stands = dataclasses.replace(
        anew, regroup=False, crews=[frozenset({"ann", "bob"})], objective="firm", may_cost=None
    )
    for problem in (anew, stands):
        found = solve(problem, iterations=2)
        assert [run.people for run in found.plan.runs if run.stops] == [{"ann", "bob"}]
