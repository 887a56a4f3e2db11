"""Which channel of a file is the electricity delivered to the site, and what else is in it?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from panels.rules.meter.catalogue import (
    DELIVERED,
    ENERGY,
    NET,
    POWER,
    RECEIVED,
    REGISTERS,
    SERVICES,
    UNITS,
    UNKNOWN_QUALITY,
    Kind,
)
from panels.rules.meter.findings import Finding, Severity, Unreadable, counted
from panels.rules.meter.rows import Rows

PREFERRED = (72, 38, 71, 61)  # a meter's energy first, then its power, then apparent power
SCALES = {"Wh": (72, 0), "kWh": (72, 3), "W": (38, 0), "kW": (38, 3), "VAh": (71, 0), "VA": (61, 0)}


@dataclass(frozen=True, kw_only=True)
class Channel:
    """Readings of one kind by one meter. `service` as in ESPI: 0 electricity, 1 gas, 2 water."""

    kind: Kind = field(default_factory=Kind)
    meter: str = ""
    name: str = ""
    service: int | None = None
    spans: tuple[tuple[int, int], ...] = ()

    @property
    def count(self) -> int:
        return sum(end - first for first, end in self.spans)

    @property
    def words(self) -> str:
        told = f"{self.name or 'unnamed'}: {self.kind.words}"
        return f"{told}, {counted(self.count, 'reading', 'readings')}"


@dataclass(frozen=True, kw_only=True)
class Choice:
    """The channel taken, its rows, and what is to be said about the others."""

    channel: Channel
    rows: Rows
    findings: tuple[Finding, ...] = ()


def choose(
    channels: Sequence[Channel], rows: Rows, *, unit: str = "", number: int | None = None
) -> Choice:
    """The delivered electricity. `unit` is stated by a person where the file is silent; `number`
    (from 1) names the channel where it is not to be chosen here.

    Raises `Unreadable` where there is none, and where its unit or scale is not known.
    """
    filled = [one for one in channels if one.count]
    found: list[Finding] = []
    if number is not None and not 1 <= number <= len(filled):
        last = len(filled)
        raise Unreadable("no_channel", f"Name a channel from 1 to {last}.", field="channel")
    chosen = filled[number - 1] if number else _delivered(filled)
    others = [one for one in filled if one is not chosen]
    found += _left_out(chosen, others, filled)
    found += _received(filled, rows)
    chosen, told = _scaled(chosen, unit)
    found += told
    own = rows.taken(iter(chosen.spans))
    _set_quality(own, chosen.kind)
    return Choice(channel=chosen, rows=own, findings=tuple(found))


def _delivered(filled: Sequence[Channel]) -> Channel:
    """Delivered before unstated before net; energy before power; the finest, then the longest."""
    usable = [one for one in filled if _objection(one) is None]
    if not usable:
        reasons = list(dict.fromkeys(filter(None, map(_objection, filled))))
        raise Unreadable("not_electricity", " ".join(reasons))
    return min(usable, key=_rank)


def _rank(one: Channel) -> tuple[int, int, int, int]:
    flow = {DELIVERED: 0, NET: 2}.get(one.kind.flow or 0, 1)
    unit = one.kind.unit
    by_unit = PREFERRED.index(unit) if unit in PREFERRED else len(PREFERRED)
    return flow, by_unit, one.kind.seconds or 10**9, -one.count


def _objection(one: Channel) -> str | None:
    """Why no demand can be had from this channel, or None."""
    kind, again = one.kind, "Ask the utility for electricity interval data, in kWh delivered."
    if one.service not in (None, 0):
        return f"This is {SERVICES.get(one.service or 0, 'not electricity')} data. {again}"
    if kind.unit is not None and not kind.measures:
        return (
            f"The numbers are in {UNITS.get(kind.unit, f'a unit with code {kind.unit}')}. {again}"
        )
    if kind.flow == RECEIVED:
        return f"The file holds only what the site gave back to the grid. {again}"
    if kind.accumulation in REGISTERS:
        named = REGISTERS[kind.accumulation]
        return f"The numbers are register readings ({named}), not use per interval. {again}"
    return None


def _left_out(
    chosen: Channel, others: Sequence[Channel], filled: Sequence[Channel]
) -> list[Finding]:
    if not others:
        return []
    listed = "; ".join(f"channel {filled.index(one) + 1} ({one.words})" for one in others)
    told = f"Taken is channel {filled.index(chosen) + 1} ({chosen.words}). Left out: {listed}."
    meters = {one.meter for one in filled if one.kind.measures and one.service in (None, 0)}
    if len(meters) > 1:
        told += " These are several meters: the demand of one is not the demand of the site."
        return [Finding("several_meters", told, Severity.CAUTION)]
    return [Finding("several_channels", told)]


def _received(filled: Iterable[Channel], rows: Rows) -> list[Finding]:
    """Flow back to the grid anywhere in the file bars the metered method."""
    for one in filled:
        if one.service not in (None, 0) or one.kind.flow not in (NET, RECEIVED):
            continue
        if one.kind.flow == NET:
            told = "The readings are net: use less what the site generates."
        elif any(any(rows.values[first:end]) for first, end in one.spans):
            told = "The file also records energy given back to the grid."
        else:
            continue
        end = " The metered method is not for a site with a source of its own."
        return [Finding("reverse_flow", told + end, Severity.BARS)]
    return []


def _scaled(chosen: Channel, unit: str) -> tuple[Channel, list[Finding]]:
    """The channel with unit and power of ten known: by the file, or as a person states."""
    kind = chosen.kind
    if unit and unit not in SCALES:
        raise Unreadable("no_unit", f"Choose one of {', '.join(SCALES)}.", field="unit")
    if kind.unit is not None and kind.power_of_ten is not None:
        return chosen, [_not_needed(kind, unit)] if unit else []
    missing = "scale (power of ten)" if kind.unit is not None else "unit and scale"
    if not unit:
        raise Unreadable(
            "scale_unknown",
            f"The file does not say the {missing} of its numbers. Look at a bill of the same"
            " months, choose the unit that gives its kWh, and take the file in again.",
            field="unit",
        )
    code, power = SCALES[unit]
    if kind.unit is not None and kind.unit != code:
        known = UNITS.get(kind.unit, str(kind.unit))
        raise Unreadable("other_unit", f"The file says {known}, not {unit}.", field="unit")
    told = (
        f"The file does not say the {missing} of its numbers; they were taken as {unit}, as stated."
    )
    kind = replace(kind, unit=code, power_of_ten=power)
    return replace(chosen, kind=kind), [Finding("scale_stated", told, Severity.CAUTION)]


def _not_needed(kind: Kind, unit: str) -> Finding:
    own = f"{UNITS.get(kind.unit or 0)} × 10^{kind.power_of_ten}"
    return Finding("unit_in_file", f"The file itself says {own}; the stated {unit} was not used.")


def _set_quality(rows: Rows, kind: Kind) -> None:
    if kind.quality is not None and 0 <= kind.quality < UNKNOWN_QUALITY:
        for index, quality in enumerate(rows.qualities):
            if quality == UNKNOWN_QUALITY:
                rows.qualities[index] = kind.quality


def rate(kind: Kind, value: float, seconds: int) -> float:
    """W or VA of one reading: energy over its length, a power as it is."""
    scaled = value * 10.0 ** (kind.power_of_ten or 0)
    return scaled * 3600 / seconds if kind.unit in ENERGY else scaled


def is_power(kind: Kind) -> bool:
    return kind.unit in POWER
