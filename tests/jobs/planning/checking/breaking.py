"""One way to break each rule, and that rule alone, in a plan that keeps them all."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from jobs.planning.checking.violations import Rule
from jobs.planning.problem import After, Need, Pin, Run, Span, Stop, Supervision, Visit
from tests.jobs.planning.checking.cases import LEFT, SPARE, Case, after_work

EXTRA = "extra"


@dataclass(frozen=True)
class Target:
    """A stop of a sound case, to break something about."""

    case: Case
    index: int
    position: int

    @property
    def run(self) -> Run:
        return self.case.plan.runs[self.index]

    @property
    def stop(self) -> Stop:
        return self.run.stops[self.position]

    @property
    def visit(self) -> Visit:
        return self.case.visit(self.stop.visit)

    @property
    def ended(self) -> int:
        day = self.case.problem.days[self.run.day]
        return after_work(self.stop.start, self.visit.duration, day)

    def freed(self) -> Case:
        """The case with nothing that ties this visit to people, to a time or to other visits."""
        visits = [
            replace(
                visit,
                after=[each for each in visit.after if each.visit != self.visit.key],
                together=None if visit.together == self.visit.key else visit.together,
            )
            for visit in self.case.problem.visits
        ]
        return self.case.with_problem(visits=visits).with_visit(
            self.visit.key, pin=None, together=None, after=(), windows=(), heads=1, needs=()
        )


# The broken case, and what the violation has to name: a visit, a person, or a day by its index.
Broken = tuple[Case, str | int] | None
Breaking = Callable[[Target, random.Random], Broken]
BREAKING: dict[Rule, list[Breaking]] = {}


def breaks(rule: Rule) -> Callable[[Breaking], Breaking]:
    def kept(breaking: Breaking) -> Breaking:
        BREAKING.setdefault(rule, []).append(breaking)
        return breaking

    return kept


def targets(case: Case) -> Sequence[Target]:
    return [
        Target(case, index, position)
        for index, run in enumerate(case.plan.runs)
        for position in range(len(run.stops))
    ]


def _someone(at: Target, dice: random.Random) -> str:
    return dice.choice(sorted(at.run.people))


def _changed(at: Target, **changes: object) -> Broken:
    return at.case.with_visit(at.visit.key, **changes), at.visit.key


def _more(case: Case, *runs: Run) -> Case:
    return case.with_runs(*case.plan.runs, *runs)


def _extra(at: Target, start: int, *people: str) -> Broken:
    """One more visit, on a run of its own that day."""
    case = at.case.with_visits(Visit(key=EXTRA, place=1, duration=10))
    stops = [Stop(visit=EXTRA, start=start)]
    return _more(case, Run(day=at.run.day, people=frozenset(people), stops=stops)), EXTRA


@breaks(Rule.KNOWN_DAY)
def a_day_that_is_none(at: Target, dice: random.Random) -> Broken:
    return _more(at.case, Run(day=99, people=frozenset({SPARE}), stops=[])), 99


@breaks(Rule.KNOWN_PERSON)
def a_stranger(at: Target, dice: random.Random) -> Broken:
    return _more(at.case, Run(day=0, people=frozenset({"stranger"}), stops=[])), "stranger"


@breaks(Rule.KNOWN_VISIT)
def a_visit_that_is_none(at: Target, dice: random.Random) -> Broken:
    stops = [*at.run.stops, Stop(visit="nowhere", start=at.stop.start)]
    return at.case.with_run(at.index, stops=stops), "nowhere"


@breaks(Rule.ONCE)
def planned_twice(at: Target, dice: random.Random) -> Broken:
    again = Run(day=at.run.day, people=frozenset({SPARE}), stops=[replace(at.stop, stock_up=False)])
    return _more(at.freed(), again), at.visit.key


@breaks(Rule.CREWS)
def a_crew_too_few(at: Target, dice: random.Random) -> Broken:
    return _changed(at, crews=2)


@breaks(Rule.AT_ONCE)
def crews_a_minute_apart(at: Target, dice: random.Random) -> Broken:
    start = at.stop.start + 1
    if any(pause.start <= start < pause.end for pause in at.case.problem.days[at.run.day].breaks):
        return None
    other = Run(
        day=at.run.day,
        people=frozenset({SPARE}),
        stops=[Stop(visit=at.visit.key, start=start)],
    )
    return _more(at.freed().with_visit(at.visit.key, crews=2), other), at.visit.key


@breaks(Rule.TOGETHER)
def other_people_than_the_visit_before(at: Target, dice: random.Random) -> Broken:
    others = [each for each in targets(at.case) if each.run.people != at.run.people]
    return _changed(at, together=dice.choice(others).visit.key) if others else None


@breaks(Rule.SOMEBODY)
def nobody_on_the_run(at: Target, dice: random.Random) -> Broken:
    return _extra(at, at.case.problem.days[at.run.day].span.start + 60)


@breaks(Rule.ONE_RUN)
def in_two_runs(at: Target, dice: random.Random) -> Broken:
    who = _someone(at, dice)
    # A licensed person beside them, so that nobody is left unsupervised.
    return _more(at.case, Run(day=at.run.day, people=frozenset({who, SPARE}), stops=[])), who


def _with_shift(at: Target, who: str, shift: Span | None) -> Case:
    def changed(shifts: dict[int, Span]) -> dict[int, Span]:
        rest = {day: span for day, span in shifts.items() if day != at.run.day}
        return rest if shift is None else {**rest, at.run.day: shift}

    return at.case.with_people(
        [
            replace(each, shifts=changed(dict(each.shifts))) if each.key == who else each
            for each in at.case.problem.people
        ]
    )


@breaks(Rule.PRESENT)
def away_that_day(at: Target, dice: random.Random) -> Broken:
    who = _someone(at, dice)
    return _with_shift(at, who, None), who


@breaks(Rule.SHIFT)
def out_before_the_shift(at: Target, dice: random.Random) -> Broken:
    who = _someone(at, dice)
    shift = at.case.person(who).shifts[at.run.day]
    return _with_shift(at, who, replace(shift, start=at.run.stops[0].start + 1)), who


@breaks(Rule.SHIFT)
def out_after_shift_and_overtime(at: Target, dice: random.Random) -> Broken:
    who = _someone(at, dice)
    person = at.case.person(who)
    start, end = person.shifts[at.run.day].start, at.run.stops[-1].start - person.overtime
    return (_with_shift(at, who, Span(start=start, end=end)), who) if end >= start else None


@breaks(Rule.AS_GROUPED)
def across_standing_crews(at: Target, dice: random.Random) -> Broken:
    crews = [run.people for run in at.case.plan.runs if not at.run.people <= run.people]
    return at.case.with_problem(regroup=False, crews=crews), min(at.run.people)


@breaks(Rule.LEVELS)
def a_licence_nobody_there_has(at: Target, dice: random.Random) -> Broken:
    return _changed(at, needs=[*at.visit.needs, Need(domain="service", level=4)])


@breaks(Rule.LEVELS)
def more_of_a_licence_than_people(at: Target, dice: random.Random) -> Broken:
    need = Need(domain="wiring", level=0, count=len(at.run.people) + 1)
    return _changed(at, needs=[need])


@breaks(Rule.HEADS)
def a_head_too_few(at: Target, dice: random.Random) -> Broken:
    return _changed(at, heads=len(at.run.people) + 1)


@breaks(Rule.SUPERVISED)
def nobody_may_supervise(at: Target, dice: random.Random) -> Broken:
    rule = Supervision(domain="wiring", level=4)
    return at.case.with_problem(supervision=rule), min(at.run.people)


@breaks(Rule.WINDOW)
def a_minute_outside_the_windows(at: Target, dice: random.Random) -> Broken:
    start = at.stop.start
    around = [Span(start=start - 60, end=start - 1), Span(start=start + 1, end=start + 60)]
    return _changed(at, windows=around)


@breaks(Rule.EARLIEST)
def a_minute_too_early(at: Target, dice: random.Random) -> Broken:
    return _changed(at, earliest=at.stop.start + 1)


@breaks(Rule.HOLD)
def a_minute_before_the_hold_ends(at: Target, dice: random.Random) -> Broken:
    return _changed(at, held_until=at.stop.start + 1)


@breaks(Rule.HOLD)
def held_without_an_end(at: Target, dice: random.Random) -> Broken:
    return _changed(at, held="the permit is not issued")


@breaks(Rule.PIN)
def pinned_elsewhere(at: Target, dice: random.Random) -> Broken:
    pins = [Pin(day=at.run.day + 1), Pin(start=at.stop.start + 1), Pin(people=frozenset({SPARE}))]
    return _changed(at, pin=dice.choice(pins))


@breaks(Rule.AFTER)
def before_what_it_comes_after(at: Target, dice: random.Random) -> Broken:
    others = [each for each in targets(at.case) if each.visit.key != at.visit.key]
    if not others:
        return None
    other = dice.choice(others)
    least = max(0, at.stop.start - other.ended + 1)
    return _changed(at, after=[After(visit=other.visit.key, least=least)])


@breaks(Rule.SOON_AFTER)
def too_long_after(at: Target, dice: random.Random) -> Broken:
    others = [each for each in targets(at.case) if each.ended < at.stop.start]
    if not others:
        return None
    other = dice.choice(others)
    most = at.stop.start - other.ended - 1
    return _changed(at, after=[After(visit=other.visit.key, most=most)])


@breaks(Rule.AFTER_PLANNED)
def after_one_left_out(at: Target, dice: random.Random) -> Broken:
    return _changed(at, after=[After(visit=LEFT)])


def _with_next(at: Target) -> Stop | None:
    later = at.run.stops[at.position + 1 :]
    return later[0] if later else None


@breaks(Rule.OVERLAP)
def still_at_the_visit_before(at: Target, dice: random.Random) -> Broken:
    following = _with_next(at)
    if following is None:
        return None
    longer = following.start - at.stop.start + 31
    return at.freed().with_visit(at.visit.key, duration=longer), following.visit


@breaks(Rule.TRAVEL)
def too_far_from_the_visit_before(at: Target, dice: random.Random) -> Broken:
    following = _with_next(at)
    if following is None or following.stock_up:
        return None
    far = len(at.case.problem.travel)
    rows = [
        [*row, 2000 if place == at.visit.place else 0]
        for place, row in enumerate(at.case.problem.travel)
    ]
    case = at.case.with_problem(travel=[*rows, [0] * (far + 1)])
    return case.with_visit(following.visit, place=far), following.visit


@breaks(Rule.DEPOT)
def by_way_of_no_depot(at: Target, dice: random.Random) -> Broken:
    visits = [
        replace(each, needs_tools=frozenset(), needs_parts={}) for each in at.case.problem.visits
    ]
    stops = list(at.run.stops)
    stops[at.position] = replace(at.stop, stock_up=True)
    case = at.case.with_problem(depot=None, visits=visits).with_run(at.index, stops=stops)
    return case, at.visit.key


def _stocked(at: Target) -> bool:
    return any(stop.stock_up for stop in at.run.stops[: at.position + 1])


@breaks(Rule.TOOLS)
def a_tool_nobody_carries(at: Target, dice: random.Random) -> Broken:
    return None if _stocked(at) else _changed(at, needs_tools=frozenset({"crane"}))


@breaks(Rule.PARTS)
def more_parts_than_are_left(at: Target, dice: random.Random) -> Broken:
    if _stocked(at):
        return None
    carried = sum(at.case.person(key).parts["breaker"] for key in at.run.people)
    used = sum(
        at.case.visit(stop.visit).needs_parts["breaker"] for stop in at.run.stops[: at.position]
    )
    return _changed(at, needs_parts={"breaker": carried - used + 1})


@breaks(Rule.BREAK)
def in_the_lunch_break(at: Target, dice: random.Random) -> Broken:
    pauses = at.case.problem.days[at.run.day].breaks
    return _extra(at, dice.choice([pauses[0].start, pauses[0].end - 1]), SPARE) if pauses else None


@breaks(Rule.DAY)
def out_before_or_after_the_day(at: Target, dice: random.Random) -> Broken:
    span = at.case.problem.days[at.run.day].span
    return _extra(at, dice.choice([span.start - 1, span.end - 9]), SPARE)


@breaks(Rule.REQUIRED)
def left_out_though_it_has_to_be_done(at: Target, dice: random.Random) -> Broken:
    return at.case.with_visit(LEFT, optional=False), LEFT


@breaks(Rule.LEAVE_OUT)
def left_out_for_more_than_allowed(at: Target, dice: random.Random) -> Broken:
    return at.case.with_problem(may_cost=at.case.visit(LEFT).cost - 1), LEFT
