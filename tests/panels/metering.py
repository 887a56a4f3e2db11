"""Meter files made up for the tests: Green Button feeds and tables, as long and wrong as wanted."""

from __future__ import annotations

import datetime as dt
import io
import math
import random
import zoneinfo
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import BinaryIO

HERE = zoneinfo.ZoneInfo("America/New_York")
SAMPLES = Path(__file__).parents[3] / "shared" / "data" / "greenbutton"
NEW_YEAR_2025 = int(dt.datetime(2025, 1, 1, tzinfo=HERE).timestamp())
QUARTER = 900
Row = tuple[int, int, int]  # start, seconds, value

HEAD = """<?xml version="1.0" encoding="UTF-8"?>
<{a}feed xmlns{b}="http://www.w3.org/2005/Atom" xmlns:espi="http://naesb.org/espi">
"""
POINT = """<{a}entry><{a}link rel="self" href="/UsagePoint/{n}"/>
<{a}link rel="related" href="/UsagePoint/{n}/MeterReading"/><{a}title>House {n}</{a}title>
<{a}content><espi:UsagePoint><espi:ServiceCategory><espi:kind>{service}</espi:kind>
</espi:ServiceCategory></espi:UsagePoint></{a}content></{a}entry>
"""
READING = """<{a}entry><{a}link rel="self" href="/UsagePoint/{n}/MeterReading/{n}"/>
<{a}link rel="up" href="/UsagePoint/{point}/MeterReading"/>
<{a}link rel="related" href="/UsagePoint/{n}/MeterReading/{n}/IntervalBlock"/>
<{a}link rel="related" href="/ReadingType/{n}"/><{a}title>Channel {n}</{a}title>
<{a}content><espi:MeterReading/></{a}content></{a}entry>
"""
TYPE = """<{a}entry><{a}link rel="self" href="/ReadingType/{n}"/><{a}content>
<espi:ReadingType>{told}</espi:ReadingType></{a}content></{a}entry>
"""
BLOCK = """<{a}entry><{a}link rel="self" href="/UsagePoint/{n}/MeterReading/{n}/IntervalBlock/{i}"/>
<{a}link rel="up" href="/UsagePoint/{n}/MeterReading/{n}/IntervalBlock"/><{a}content>
<espi:IntervalBlock>
<espi:interval><espi:duration>{whole}</espi:duration><espi:start>{start}</espi:start></espi:interval>
"""
ONE = """  <espi:IntervalReading>
    <espi:cost>{cost}</espi:cost>
    <espi:ReadingQuality>
      <espi:quality>{quality}</espi:quality>
    </espi:ReadingQuality>
    <espi:timePeriod>
      <espi:duration>{seconds}</espi:duration>
      <espi:start>{start}</espi:start>
    </espi:timePeriod>
    <espi:value>{value}</espi:value>
  </espi:IntervalReading>
"""
DELIVERED = {
    "accumulationBehaviour": 4, "flowDirection": 1, "kind": 12, "powerOfTenMultiplier": 0,
    "uom": 72,
}  # fmt: skip


def quarters(days: int = 365, *, start: int = NEW_YEAR_2025, seed: int = 4) -> list[Row]:
    """A made-up house: low at night, high in the evening, Wh in each quarter hour."""
    chance = random.Random(seed)
    rows = []
    for number in range(days * 96):
        at = start + number * QUARTER
        hour = (number % 96) / 4
        base = 90 + 70 * math.sin((hour - 9) / 24 * 2 * math.pi) ** 2
        evening = 500 * math.exp(-(((hour - 19) / 2) ** 2)) * chance.random()
        rows.append((at, QUARTER, int(base + evening + 60 * chance.random())))
    return rows


def feed(
    *channels: tuple[dict[str, int], Sequence[Row]], prefix: str = "", service: int = 0,
    per_block: int = 96, types_last: bool = True, quality: int = 17, meters: bool = False,
    readings: bool = True,
) -> Iterator[str]:  # fmt: skip
    """A feed of channels: what their type says, and their rows. `meters`: a meter for each."""
    a, b = (f"{prefix}:", f":{prefix}") if prefix else ("", "")
    yield HEAD.format(a=a, b=b)
    types = [
        TYPE.format(a=a, n=n, told="".join(f"<espi:{k}>{v}</espi:{k}>" for k, v in told.items()))
        for n, (told, _) in enumerate(channels, 1)
        if told
    ]
    for n in range(1, len(channels) + 1):
        if n == 1 or meters:
            yield POINT.format(a=a, n=n, service=service)
        if readings:
            yield READING.format(a=a, n=n, point=n if meters else 1)
    if not types_last:
        yield from types
    for n, (_, rows) in enumerate(channels, 1):
        for i in range(0, len(rows), per_block):
            yield from _block(rows[i : i + per_block], a=a, n=n, i=i, quality=quality)
    if types_last:
        yield from types
    yield f"</{a}feed>"


def _block(rows: Sequence[Row], *, a: str, n: int, i: int, quality: int) -> Iterator[str]:
    whole = rows[-1][0] + rows[-1][1] - rows[0][0]
    yield BLOCK.format(a=a, n=n, i=i, whole=whole, start=rows[0][0])
    for start, seconds, value in rows:
        yield ONE.format(
            start=start, seconds=seconds, value=value, cost=value * 11, quality=quality
        )
    yield f"</espi:IntervalBlock></{a}content></{a}entry>\n"


def opened(parts: Iterable[str] | bytes) -> BinaryIO:
    return io.BytesIO(parts if isinstance(parts, bytes) else "".join(parts).encode())


def green_button(rows: Sequence[Row], **said: object) -> BinaryIO:
    """A feed of one delivered channel in Wh."""
    return opened(feed((DELIVERED, rows), **said))  # type: ignore[arg-type]


def table(rows: Sequence[Row], *, zone: dt.tzinfo = HERE) -> BinaryIO:
    """The same as CSV: local times, minutes, kWh."""
    lines = ["start,duration (min),kWh"]
    for start, seconds, value in rows:
        local = dt.datetime.fromtimestamp(start, zone)
        lines.append(f"{local:%Y-%m-%d %H:%M},{seconds // 60},{value / 1000}")
    return opened("\n".join(lines).encode())
