"""Is a problem read into numbers so that nothing of it is lost?"""

from __future__ import annotations

from jobs.planning.problem import After, Need, Visit
from jobs.planning.solve.teams.model import model
from tests.jobs.planning.solve.teams import town

PEOPLE = [town.person("ann", (1,), wiring=2), town.person("bob", wiring=1, fire=1)]


def test_a_need_counts_for_the_levels_below_and_heads_for_everybody() -> None:
    needs = [Need(domain="wiring", level=2, count=2), Need(domain="wiring", level=1, count=1)]
    task = model(town.problem(PEOPLE, [Visit(key="a", needs=needs, heads=3)])).tasks[0]
    assert task.need.tolist() == [2, 2, 3]  # wiring 1, wiring 2, being there
    assert task.asks == {1: 2, 2: 3}  # who has level 2 has level 1


def test_who_is_there_and_able_is_known_by_number() -> None:
    made = model(town.problem(PEOPLE, [Visit(key="a", needs=[Need(domain="wiring", level=2)])]))
    assert made.able.tolist() == [[True, True], [False, True]]
    assert made.here.tolist() == [[False, True], [True, True]]


def test_a_visit_waits_for_those_before_it_and_for_its_permit() -> None:
    visits = [
        Visit(key="a"),
        Visit(key="b", after=[After(visit="a", least=10)], earliest=20, held_until=30),
    ]
    made = model(town.problem(PEOPLE, visits))
    assert made.ready(made.tasks[1], {0: 60}) == 70
    assert made.ready(made.tasks[1], {0: 5}) == 30
    assert [lag.visit for lag in made.tasks[0].before] == [1]
