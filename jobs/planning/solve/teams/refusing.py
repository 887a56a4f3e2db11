"""What is not planned where people are grouped anew each day, and why?"""

from __future__ import annotations

from jobs.planning.problem import Problem, Visit
from jobs.planning.solve.refusing import CannotPlan


def refuse(problem: Problem) -> None:
    """Raises CannotPlan for a rule that teams formed each day are not planned by here."""
    visits = problem.visits
    for words, so in (
        ("Teams formed each day are only planned for completion here.",
         problem.objective != "completion" or not problem.regroup),
        ("Teams formed each day are only planned without travel here.", _travels(problem)),
        ("Teams formed each day are not planned around breaks here.",
         any(day.breaks for day in problem.days)),
        ("Teams formed each day need people who are there all day or away.", _part_days(problem)),
        ("Teams formed each day are not planned by a rule of supervision here.",
         problem.supervision is not None),
        ("Visits with windows, a pin, several crews, the people of another visit, tools or parts "
         "are not planned with teams formed each day.", any(map(_special, visits))),
        ("Teams formed each day are not planned with a longest wait between two visits.",
         any(after.most is not None for visit in visits for after in visit.after)),
    ):  # fmt: skip
        if so:
            raise CannotPlan(words)


def _travels(problem: Problem) -> bool:
    places = {visit.place for visit in problem.visits}
    if problem.home_travel:
        places |= {person.home for person in problem.people}
    return any(problem.travel[a][b] for a in places for b in places)


def _part_days(problem: Problem) -> bool:
    return any(
        day.index in person.shifts
        and not (
            person.shifts[day.index].start <= day.span.start
            and person.shifts[day.index].end >= day.span.end
        )
        for day in problem.days
        for person in problem.people
    )


def _special(visit: Visit) -> bool:
    return bool(
        visit.windows
        or visit.pin
        or visit.crews > 1
        or visit.together
        or visit.needs_tools
        or visit.needs_parts
    )
