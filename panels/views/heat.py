"""A year of load as a picture: a column for each day, a row for each hour, darker for more."""

from __future__ import annotations

import datetime as dt
import math
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils import formats

from panels.rules.meter.findings import power
from panels.rules.meter.hours import HOURS, Hours

# Where the next level begins, of the fullest hour: a home idles most of the time.
SHARES = (0.1, 0.25, 0.45, 0.7)
LEVELS = len(SHARES) + 1
BLANK = "none"
ROUND = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


@dataclass(frozen=True, kw_only=True)
class Layer:
    """All hours of one level: `d` is a path in days and hours, `range` what the level means."""

    level: int | str
    d: str
    range: str = ""


@dataclass(frozen=True, kw_only=True)
class Frame:
    """One way of laying the picture out: `matrix` turns days and hours into its units."""

    name: str
    width: int
    height: int
    matrix: str
    months: list[tuple[float, float, str]]
    hours: list[tuple[float, float, str]]
    peak: tuple[float, float] | None
    label: tuple[float, float, float]  # x and y of the box, its width


@dataclass(frozen=True, kw_only=True)
class Heat:
    layers: list[Layer]
    legend: list[Layer]
    frames: list[Frame]
    peak_text: str
    first: dt.date
    last: dt.date


def heat(hours: Hours, *, unit: str, peak: str) -> Heat:
    """The picture of `hours`; `peak` is the text beside its mark."""
    limits = _limits(hours)
    runs: dict[int | str, list[str]] = {}
    for day, column in enumerate(hours.days):
        for start, length, level in _runs([_level(one, limits) for one in column]):
            runs.setdefault(level, []).append(f"M{day} {start}h1v{length}h-1z")
    layers = [
        Layer(level=level, d="".join(runs.get(level, [])), range=_range(level, limits, unit))
        for level in range(LEVELS)
    ]
    blank = Layer(level=BLANK, d="".join(runs.get(BLANK, [])))
    return Heat(
        layers=[*layers, blank],
        legend=[*layers, *([blank] if blank.d else [])],
        frames=[_wide(hours, peak), _tall(hours, peak)],
        peak_text=peak,
        first=hours.first,
        last=hours.day(len(hours.days) - 1),
    )


def _limits(hours: Hours) -> list[float]:
    """Round numbers of W at which the levels begin, the lowest but one first."""
    most = max((one for day in hours.days for one in day if one is not None), default=0.0)
    return [_round(share * max(most, 10.0)) for share in SHARES]


def _round(number: float) -> float:
    scale = 10 ** math.floor(math.log10(number))
    return min(ROUND, key=lambda step: abs(step * scale - number)) * scale


def _level(value: float | None, limits: list[float]) -> int | str:
    return BLANK if value is None else bisect_right(limits, value)


def _range(level: int, limits: list[float], unit: str) -> str:
    ends = [power(limit, unit) for limit in limits]
    if level == 0:
        return f"< {ends[0]}"
    return f"≥ {ends[-1]}" if level == len(ends) else f"{ends[level - 1]} – {ends[level]}"


def _runs(levels: list[int | str]) -> Iterator[tuple[int, int, int | str]]:
    start = 0
    for hour in range(1, len(levels) + 1):
        if hour == len(levels) or levels[hour] != levels[start]:
            yield start, hour - start, levels[start]
            start = hour


def _firsts(hours: Hours) -> Iterator[tuple[int, str]]:
    """Where each month begins, and its short name; not where there is no room for it."""
    for day in range(max(1, len(hours.days) - 10)):
        date = hours.day(day)
        if date.day == 1 or (day == 0 and date.day < 20):
            yield day, formats.date_format(date, "M")


def _wide(hours: Hours, peak: str) -> Frame:
    """Days from left to right, hours downwards: for a desk and for paper."""
    left, top, high = 40, 8, 11
    across = max(3, 1095 // len(hours.days))
    width, height = left + across * len(hours.days) + 8, top + high * HOURS + 26
    at = (left + across * (hours.peak_day + 0.5), top + high * (hours.peak_hour + 0.5))
    return Frame(
        name="wide",
        width=width,
        height=height,
        matrix=f"{across} 0 0 {high} {left} {top}",
        months=[(left + across * day, height - 8, name) for day, name in _firsts(hours)],
        hours=[(left - 6, top + high * hour + 4, f"{hour:02}") for hour in range(0, 25, 6)],
        peak=at if hours.peak_day >= 0 else None,
        label=_label(at, peak, width, top),
    )


def _tall(hours: Hours, peak: str) -> Frame:
    """Hours from left to right, days downwards: for a phone."""
    left, top, across = 40, 22, 12
    down = max(2, 720 // len(hours.days))
    width, height = left + across * HOURS + 8, top + down * len(hours.days) + 8
    at = (left + across * (hours.peak_hour + 0.5), top + down * (hours.peak_day + 0.5))
    return Frame(
        name="tall",
        width=width,
        height=height,
        matrix=f"0 {down} {across} 0 {left} {top}",
        months=[(left - 6, top + down * day + 11, name) for day, name in _firsts(hours)],
        hours=[(left + across * hour, top - 8, f"{hour:02}") for hour in range(0, 25, 6)],
        peak=at if hours.peak_day >= 0 else None,
        label=_label(at, peak, width, top),
    )


def _label(at: tuple[float, float], text: str, width: int, top: int) -> tuple[float, float, float]:
    """A box above the mark, below where there is no room, inside the picture's width."""
    wide = 6.4 * len(text) + 16
    x = min(max(at[0] - wide / 2, 2), width - wide - 2)
    y = at[1] - 40 if at[1] - 40 > top else at[1] + 18
    return x, y, wide
