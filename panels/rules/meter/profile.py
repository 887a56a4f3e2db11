"""What does a site draw, quarter hour by quarter hour, in a year like the one on record?"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from panels.rules.meter.clock import winter_clock
from panels.rules.meter.series import Series

QUARTER, SLOTS, DAYS = 900, 96, 365
COARSEST = 3600
FEWEST_DAYS = 7  # below that a year made of them says nothing; ours, no source


@dataclass(frozen=True)
class Profile:
    """`powers`: 35,040 averages in the series' unit, from 1 January, local standard time.
    `filled` of them had no reading and follow the same hour of the nearest days."""

    powers: list[float]
    filled: int


def typical_year(series: Series, zone: dt.tzinfo) -> Profile | None:
    """The latest reading for every quarter hour of the year; 29 February is left out.

    Readings by the hour are held flat. None where readings are longer than an hour or fewer
    than seven days are on record.
    """
    if not len(series) or series.interval > COARSEST:
        return None
    if series.covered < FEWEST_DAYS * SLOTS * QUARTER:
        return None
    year = dt.datetime.fromtimestamp(series.first, dt.UTC).year
    shift = winter_clock(zone, year).utcoffset(None)
    known = _by_slot(_quarters(series, int(shift.total_seconds())))
    missing = [slot for slot in range(DAYS * SLOTS) if slot not in known]
    filled = {slot: _neighbours(known, slot) for slot in missing}
    powers = [known[slot] if slot in known else filled[slot] for slot in range(DAYS * SLOTS)]
    return Profile(powers, len(missing))


def _quarters(series: Series, shift: int) -> dict[int, float]:
    """The average power of every quarter hour touched, by its number since 1970."""
    sums: dict[int, list[float]] = {}
    for start, seconds, power in series:
        at, end = start + shift, start + shift + seconds
        while at < end:
            quarter = at // QUARTER
            until = min(end, (quarter + 1) * QUARTER)
            held = sums.setdefault(quarter, [0.0, 0.0])
            held[0] += power * (until - at)
            held[1] += until - at
            at = until
    return {quarter: energy / lasted for quarter, (energy, lasted) in sums.items()}


def _by_slot(quarters: dict[int, float]) -> dict[int, float]:
    """By the place in the year; of several years the latest."""
    first_of_year: dict[int, int] = {}
    known: dict[int, float] = {}
    for quarter in sorted(quarters):
        day, slot = divmod(quarter, SLOTS)
        if day not in first_of_year:
            first_of_year[day] = _day_of_year(day)
        if first_of_year[day] >= 0:
            known[first_of_year[day] * SLOTS + slot] = quarters[quarter]
    return known


def _day_of_year(day: int) -> int:
    """0 for 1 January to 364, of a day counted from 1970; -1 for 29 February."""
    date = dt.date(1970, 1, 1) + dt.timedelta(days=day)
    if (date.month, date.day) == (2, 29):
        return -1
    return (date.replace(year=2001) - dt.date(2001, 1, 1)).days


def _neighbours(known: dict[int, float], slot: int) -> float:
    """The mean of the same quarter hour on the nearest day before and after that has one."""
    year, found = DAYS * SLOTS, []
    for step in (-SLOTS, SLOTS):
        at = slot
        for _ in range(DAYS):
            at = (at + step) % year
            if at in known:
                found.append(known[at])
                break
    return sum(found) / len(found) if found else 0.0
