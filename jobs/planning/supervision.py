"""How many apprentices may work beside one licensed person, and who is then left unsupervised?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

APPRENTICE = 10
JOURNEYMAN = 30


class Graded(Protocol):
    def grade_on(self, day: dt.date, state: str) -> int | None: ...


W = TypeVar("W", bound=Graded)


@dataclass(frozen=True, kw_only=True)
class Supervision:
    """One place's ratio. An empty state means anywhere no rule of its own is known."""

    state: str = ""
    apprentices_each: int = 1
    supervisor_grade: int = JOURNEYMAN
    grade_name: str = "journeyman"
    source: str = "common practice, no source"


ONE_TO_ONE = Supervision()


def rule_for(state: str, rules: Iterable[Supervision]) -> Supervision:
    """The state's own rule, else the firm's rule for anywhere, else one to one."""
    by_state = {rule.state: rule for rule in rules}
    return by_state.get(state) or by_state.get("") or ONE_TO_ONE


def apprentices_over(
    people: Sequence[W], rule: Supervision | None, *, day: dt.date, state: str
) -> list[W]:
    """Those beyond what the licensed people present may supervise, the first named first covered.

    Whoever has no licence good on that day counts as an apprentice: a lapsed journeyman may
    not supervise, and may not work alone either.
    """
    if rule is None:
        return []
    grades = [(person, person.grade_on(day, state) or 0) for person in people]
    supervisors = sum(1 for _person, grade in grades if grade >= rule.supervisor_grade)
    learning = [person for person, grade in grades if grade <= APPRENTICE]
    return learning[supervisors * rule.apprentices_each :]
