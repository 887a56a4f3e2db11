"""What is not planned here, and why?"""

from __future__ import annotations

from jobs.planning.problem import Problem


class CannotPlan(ValueError):
    """There is no plan to hand out; the words say why."""


def refuse(problem: Problem) -> None:
    """Raises CannotPlan for what only another search can plan."""
    for words, so in (
        ("People are to be grouped anew each day; only crews as they stand are planned here.",
         problem.regroup),
        ("Completion is an objective of crews formed each day; only crews as they stand are "
         "planned here.", problem.objective == "completion"),
        ("Somebody belongs to two crews; crews as they stand share nobody.",
         sum(map(len, problem.crews)) > len(frozenset[str]().union(*problem.crews))),
        ("A visit of several crews and one with the same people cannot go together here.",
         several_and_together(problem)),
        ("Routes are only timed by their duration where no day has breaks and each visit has one "
         "window, one crew and no other visit to wait for.",
         problem.objective == "duration" and not plain(problem)),
    ):  # fmt: skip
        if so:
            raise CannotPlan(words)


def several_and_together(problem: Problem) -> bool:
    """Whether a visit of several crews is to have the people of another, or another its."""
    several = {visit.key for visit in problem.visits if visit.crews > 1}
    return any(
        visit.together is not None and {visit.key, visit.together} & several
        for visit in problem.visits
    )


def plain(problem: Problem) -> bool:
    """Whether the times of a run are all there is to know of it."""
    return not any(day.breaks for day in problem.days) and not any(
        len(visit.windows) > 1 or visit.crews > 1 or visit.after for visit in problem.visits
    )
