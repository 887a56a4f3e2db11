"""Which reading type, meter and service do the blocks of a feed belong to?

Entries name each other by the text of their links; equal texts are the only tie (ESPI REQ.21).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from panels.rules.meter.catalogue import Kind, kind_from
from panels.rules.meter.channels import Channel
from panels.rules.meter.feed import ESPI, Entry, Feed
from panels.rules.meter.findings import Finding, Severity, Unreadable

NO_READINGS = "Ask the utility for the interval data itself (interval blocks, by the quarter hour)."


@dataclass(kw_only=True)
class Linked:
    """The channels of a feed, and the offset its clock has from UTC in winter where it says so."""

    channels: list[Channel]
    findings: list[Finding] = field(default_factory=list)
    offset: int | None = None


def linked(feed: Feed) -> Linked:
    """The channels of a feed. Raises `Unreadable` where it holds no readings."""
    if not len(feed.rows):
        raise _nothing(feed)
    readings = _of(feed, "MeterReading")
    types, points = _of(feed, "ReadingType"), _of(feed, "UsagePoint")
    found = Linked(channels=[], offset=_offset(_of(feed, "LocalTimeParameters")))
    blocks: dict[str, tuple[Entry | None, Entry, list[tuple[int, int]]]] = {}
    for entry in feed.entries:
        if not entry.spans:
            continue
        reading = _tied(readings, entry)
        key = reading.own if reading else entry.up or entry.own
        blocks.setdefault(key, (reading, entry, []))[2].extend(entry.spans)
    for reading, block, spans in blocks.values():
        described = _type_of(reading, types, found, alone=len(blocks) == 1)
        point = _tied(points, reading) if reading else None
        if point is None and len(points) == 1:
            point = points[0]
        found.channels.append(
            Channel(
                kind=_kind(described),
                meter=point.own if point else (reading or block).up,
                name=(reading.title if reading else "") or (point.title if point else ""),
                service=_number(point.told.get("kind")) if point else None,
                spans=tuple(spans),
            )
        )
    return found


def _of(feed: Feed, what: str) -> list[Entry]:
    return [entry for entry in feed.entries if entry.what == what]


def _tied(holders: Sequence[Entry], held: Entry) -> Entry | None:
    """The entry that names `held`, itself or the collection it lies in, as related."""
    names = {held.own, held.up} - {""}
    return next((one for one in holders if names.intersection(one.related)), None)


def _type_of(
    reading: Entry | None, types: Sequence[Entry], found: Linked, *, alone: bool
) -> Entry | None:
    named = reading.related if reading else []
    tied = next((one for one in types if one.own and one.own in named), None)
    if tied is None and alone and len(types) == 1:
        told = "No link ties the readings to the one reading type in the file; it was taken."
        found.findings.append(Finding("type_not_linked", told, Severity.CAUTION))
        return types[0]
    return tied


def _kind(described: Entry | None) -> Kind:
    try:
        return kind_from(described.told) if described else Kind()
    except ValueError as fault:
        raise Unreadable(
            "bad_reading_type",
            "The description of the readings (ReadingType) holds a number that cannot be."
            " Ask the utility for the file anew.",
        ) from fault


def _offset(clocks: Sequence[Entry]) -> int | None:
    return _number(clocks[0].told.get("tzOffset")) if clocks else None


def _number(text: str | None) -> int | None:
    try:
        return int(text) if text else None
    except ValueError:
        return None


def _nothing(feed: Feed) -> Unreadable:
    """Why a file without a single reading is not what is needed."""
    foreign = next((tag for tag in feed.counts if tag.endswith("}IntervalReading")), "")
    if foreign:
        space = foreign[1:].split("}")[0]
        told = f"Its readings are in the namespace {space}, not {ESPI[1:-1]} of Green Button."
        return Unreadable("wrong_namespace", f"{told} Ask the utility for a Green Button file.")
    if feed.counts["ReadingType"]:
        told = "The file describes kinds of readings but holds none."
    elif feed.counts["UsageSummary"] or feed.counts["ElectricPowerUsageSummary"]:
        told = "The file holds only summaries by billing period; a demand cannot be had from those."
    elif feed.counts:
        told = "The file belongs to Green Button data but holds no readings."
    else:
        told = "This is XML, but no Green Button data."
    return Unreadable("no_readings", f"{told} {NO_READINGS}")
