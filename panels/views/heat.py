"""A year of load as a picture: a column for each day, a row for each hour, darker for more."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils import formats

from panels.rules.meter.findings import power
from panels.rules.meter.hours import HOURS, Hours

LEVELS = 5
BLANK = "none"
STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


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
    step = _step(hours)
    runs: dict[int | str, list[str]] = {}
    for day, column in enumerate(hours.days):
        for start, length, level in _runs([_level(one, step) for one in column]):
            runs.setdefault(level, []).append(f"M{day} {start}h1v{length}h-1z")
    layers = [
        Layer(level=level, d="".join(runs.get(level, [])), range=_range(level, step, unit))
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


def _step(hours: Hours) -> float:
    """A round number of W a level, so that five of them reach the highest hour."""
    most = max((one for day in hours.days for one in day if one is not None), default=0.0)
    least = max(most / LEVELS, 1.0)
    scale = 10 ** math.floor(math.log10(least))
    return next(step * scale for step in STEPS if step * scale >= least * 0.999)


def _level(value: float | None, step: float) -> int | str:
    return BLANK if value is None else max(0, min(int(value / step), LEVELS - 1))


def _range(level: int, step: float, unit: str) -> str:
    low, high = power(level * step, unit), power((level + 1) * step, unit)
    return f"{low} – {high}" if level else f"< {high}"


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
