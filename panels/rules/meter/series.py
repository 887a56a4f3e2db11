"""What did the meter see: powers over time, in order, each once, and kept small?"""

from __future__ import annotations

import struct
import zlib
from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

HEAD = struct.Struct("<IQ")


class Reading(NamedTuple):
    """From `start` (Unix seconds, UTC) for `seconds` an average of `power` (W or VA)."""

    start: int
    seconds: int
    power: float

    @property
    def end(self) -> int:
        return self.start + self.seconds


@dataclass
class Series:
    """Readings that follow one another without overlap. `unit` is "W" or "VA"."""

    unit: str = "W"
    starts: array[int] = field(default_factory=lambda: array("q"))
    seconds: array[int] = field(default_factory=lambda: array("I"))
    powers: array[float] = field(default_factory=lambda: array("d"))

    def __len__(self) -> int:
        return len(self.starts)

    def __iter__(self) -> Iterator[Reading]:
        return map(Reading._make, zip(self.starts, self.seconds, self.powers, strict=True))

    def add(self, reading: Reading) -> None:
        self.starts.append(reading.start)
        self.seconds.append(reading.seconds)
        self.powers.append(reading.power)

    @property
    def first(self) -> int:
        return self.starts[0]

    @property
    def end(self) -> int:
        return self.starts[-1] + self.seconds[-1]

    @property
    def covered(self) -> int:
        """Seconds for which there is a reading."""
        return sum(self.seconds)

    @property
    def interval(self) -> int:
        """The length most readings have, in seconds; the longest of them where several do."""
        lengths: dict[int, int] = {}
        for one in self.seconds:
            lengths[one] = lengths.get(one, 0) + 1
        return max(lengths, key=lambda one: (lengths[one], one))

    @property
    def peak(self) -> Reading:
        """The first of the highest."""
        at = max(range(len(self.powers)), key=self.powers.__getitem__)
        return Reading(self.starts[at], self.seconds[at], self.powers[at])

    @property
    def energy(self) -> float:
        """Wh or VAh of all readings together."""
        pairs = zip(self.seconds, self.powers, strict=True)
        return round(sum(seconds * power for seconds, power in pairs) / 3600, 3)


def packed(series: Series) -> bytes:
    """The numbers of a series, compressed; `unpacked` gives them back exactly."""
    gaps = array("I", (b - a for a, b in zip(series.starts, series.starts[1:], strict=False)))
    head = HEAD.pack(len(series), series.first if len(series) else 0)
    body = b"".join(one.tobytes() for one in (gaps, series.seconds, series.powers))
    return head + zlib.compress(body, 6)


def unpacked(data: bytes, *, unit: str) -> Series:
    """The series that `packed` wrote."""
    count, first = HEAD.unpack_from(data)
    body = zlib.decompress(data[HEAD.size :])
    gaps, seconds, powers = array("I"), array("I"), array("d")
    ends = [4 * max(count - 1, 0), 4 * max(count - 1, 0) + 4 * count]
    gaps.frombytes(body[: ends[0]])
    seconds.frombytes(body[ends[0] : ends[1]])
    powers.frombytes(body[ends[1] :])
    starts = array("q", [first] if count else [])
    for gap in gaps:
        starts.append(starts[-1] + gap)
    return Series(unit=unit, starts=starts, seconds=seconds, powers=powers)
