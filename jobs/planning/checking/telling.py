"""How is a break told: who, which visit, which day and when?"""

from __future__ import annotations

from collections.abc import Iterable

from jobs.planning.checking.reading import Reading
from jobs.planning.checking.violations import About, Rule, Violation


def told(
    reading: Reading,
    code: Rule,
    words: str,
    *,
    visits: Iterable[str] = (),
    people: Iterable[str] = (),
    day: int | None = None,
    at: int | None = None,
    **values: object,
) -> Violation:
    """A violation of `code`. The words may use {visit} (the first), {who} (all the people), {on}
    (the day), {at} (a time with its day) and whatever else is given by name."""
    about = About(visits=tuple(visits), people=frozenset(people), day=day)
    said: dict[str, object] = {"who": reading.names(about.people)}
    if about.visits:
        said["visit"] = reading.name(about.visits[0])
    if day is not None:
        said["on"] = reading.day_name(day)
    if at is not None:
        said["at"] = reading.at(at)
    return Violation(code, words, said | values, about)
