"""How are a year's raw readings held in little memory while the rest of the file is read?"""

from __future__ import annotations

from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field

from panels.rules.meter.catalogue import UNKNOWN_QUALITY
from panels.rules.meter.findings import Unreadable

MOST = 1_200_000  # two years by the minute


@dataclass
class Rows:
    """Start (Unix seconds, UTC), length in seconds, number as the file has it, and quality."""

    starts: array[int] = field(default_factory=lambda: array("q"))
    seconds: array[int] = field(default_factory=lambda: array("q"))
    values: array[float] = field(default_factory=lambda: array("d"))
    qualities: array[int] = field(default_factory=lambda: array("B"))

    def __len__(self) -> int:
        return len(self.starts)

    def __iter__(self) -> Iterator[tuple[int, int, float, int]]:
        return zip(self.starts, self.seconds, self.values, self.qualities, strict=True)

    def add(self, start: int, seconds: int, value: float, quality: int = UNKNOWN_QUALITY) -> None:
        if len(self.starts) >= MOST:
            raise Unreadable(
                "too_many_readings",
                f"There are more than {MOST:,} readings in this file. Ask for one year by the"
                " quarter hour.",
            )
        self.starts.append(start)
        self.seconds.append(seconds)
        self.values.append(value)
        self.qualities.append(quality)

    def taken(self, spans: Iterator[tuple[int, int]]) -> Rows:
        """The rows of these spans (first, one past the last)."""
        some = Rows()
        for first, end in spans:
            for name in ("starts", "seconds", "values", "qualities"):
                getattr(some, name).extend(getattr(self, name)[first:end])
        return some
