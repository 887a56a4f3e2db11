"""Does this plan keep every rule of its problem, and what are its terms?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from jobs.planning.checking import crews, hours, known, visits, worth
from jobs.planning.checking.reading import Reading
from jobs.planning.checking.violations import Found, Violation
from jobs.planning.problem import Plan, Problem
from jobs.planning.terms import Terms

CHECKS: Sequence[Callable[[Reading], Found]] = (
    known.known,
    known.as_often_as_asked,
    known.one_run_a_day,
    crews.present,
    crews.supervised,
    crews.able,
    visits.when,
    visits.pinned,
    visits.at_once,
    visits.together,
    visits.order,
    visits.left_out,
    hours.hours,
)


@dataclass(frozen=True)
class Checked:
    """What was found: every violation, and the terms (those of a broken plan are no promise)."""

    violations: Sequence[Violation]
    terms: Terms

    @property
    def sound(self) -> bool:
        return not self.violations


def check(problem: Problem, plan: Plan) -> Checked:
    """Every violation of every rule, in words, and every term of every objective.

    It looks only at the problem and the plan and shares nothing with what makes plans. Never
    fails on a plan, however wrong: unknown days, people and visits are violations, and the other
    rules look at the rest.
    """
    reading = Reading(problem, plan)
    violations = [each for found in CHECKS for each in found(reading)]
    return Checked(violations, worth.worth(reading))
