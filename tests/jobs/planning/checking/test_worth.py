"""Is every term of a plan what a person would reckon by hand?"""

from __future__ import annotations

from dataclasses import replace

from jobs.planning.checking.check import check
from jobs.planning.problem import Day, Person, Plan, Problem, Run, Span, Stop, Visit

# Home is place 0; a is 10 units off, b is 20 off and 25 from a.
TRAVEL = [[0, 10, 20], [10, 0, 25], [20, 25, 0]]
DAY = Day(index=0, span=Span(start=360, end=1200), breaks=[Span(start=600, end=630)])
SHIFT = {0: Span(start=420, end=720)}
ANN = Person(key="ann", shifts=SHIFT, overtime=90, cost=3)
BOB = Person(key="bob", shifts=SHIFT, overtime=90, cost=1)
ON_TIME = Span(start=470, end=490)
A = Visit(key="a", place=1, duration=100, priority=1, weight=5, promised=ON_TIME, due=600)
B = Visit(key="b", place=2, duration=60, priority=2, weight=2, due=700)
C = Visit(key="c", place=1, duration=30, weight=7, promised=Span(start=430, end=500))
PROBLEM = Problem(days=[DAY], people=[ANN, BOB], visits=[A, B, C], travel=TRAVEL)


def plan(*stops: Stop, people: tuple[str, ...] = ("ann",)) -> Plan:
    return Plan(runs=[Run(day=0, people=frozenset(people), stops=stops)])


# Leaves at 470; a 480-580, drives 580-600 and, after the break, 630-635; b 640-700; back at 720.
BOTH = plan(Stop(visit="a", start=480), Stop(visit="b", start=640))
# Two at once, an hour later: b 700-760, back at 780.
LATER = plan(Stop(visit="a", start=480), Stop(visit="b", start=700), people=("ann", "bob"))


def test_a_plan_on_time() -> None:
    checked = check(PROBLEM, BOTH)
    assert checked.sound
    assert checked.terms == {
        "broken": 1,  # c is left out
        "undone": 7,
        "late": 0,
        "moved": 0,
        "shifted": 0,
        "effort": 3 * (10 + 25 + 20),
        "unfair": 1000 * (55 + 160) // 300,
        "completion": 28 * 580 + 14 * 700 + 700,
        "duration": 720 - 470 - 30,
        "driving": 55,
        "overtime": 0,
        "at_risk": 0,
    }


def test_a_plan_into_overtime() -> None:
    checked = check(PROBLEM, LATER)
    assert checked.sound
    assert checked.terms["late"] == 2 * 60
    assert checked.terms["overtime"] == 2 * 60
    assert checked.terms["effort"] == (3 + 1) * (55 + 60)
    assert checked.terms["unfair"] == 0


def test_changes_against_what_was_published() -> None:
    told = replace(PROBLEM, published=BOTH)
    assert check(told, BOTH).terms["moved"] == 0
    later = check(told, LATER).terms
    assert (later["moved"], later["shifted"]) == (2, 60)  # Bob is new to both
    assert check(told, plan(BOTH.runs[0].stops[0])).terms["moved"] == 1  # b is left out
    fewer = check(replace(PROBLEM, published=LATER), BOTH).terms
    assert (fewer["moved"], fewer["shifted"]) == (0, 60)  # without Bob nobody is new


def test_a_promise_is_broken_by_a_start_outside_it() -> None:
    late = plan(Stop(visit="a", start=491), Stop(visit="c", start=591))
    assert check(PROBLEM, late).terms["broken"] == 2
    kept = plan(Stop(visit="c", start=430), Stop(visit="a", start=470))
    assert check(PROBLEM, kept).terms["broken"] == 0


def test_a_promise_at_risk_is_one_that_a_bad_day_before_it_breaks() -> None:
    slow = replace(PROBLEM, visits=[A, B, replace(C, pessimistic=61)])
    kept = plan(Stop(visit="c", start=430), Stop(visit="a", start=470))
    assert check(PROBLEM, kept).terms["at_risk"] == 0
    assert check(slow, kept).terms["at_risk"] == 1


def test_the_way_by_the_depot_is_driven() -> None:
    by_depot = plan(Stop(visit="b", start=640, stock_up=True))
    terms = check(replace(PROBLEM, depot=1), by_depot).terms
    assert terms["driving"] == 10 + 25 + 20


def test_without_home_travel_a_run_is_from_its_first_to_its_last_visit() -> None:
    terms = check(replace(PROBLEM, home_travel=False), BOTH).terms
    assert (terms["driving"], terms["duration"]) == (25, 700 - 480 - 30)
