"""What is wrong or noteworthy in a meter's file, and how is that said?"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from contractor.errors import Invalid


class Severity(enum.StrEnum):
    """`NOTE` is only to be known; `CAUTION` weakens the answer; `BARS` closes the method."""

    NOTE = "note"
    CAUTION = "caution"
    BARS = "bars"


@dataclass(frozen=True)
class Finding:
    """One thing found in the file. `code` is for programs, the sentence for people."""

    code: str
    sentence: str
    severity: Severity = Severity.NOTE


class Unreadable(Invalid):
    """Nothing can be taken from this file as it stands; the sentence says what to do.

    `field` is what has to be given or changed: the file itself, or the unit of its numbers.
    """

    def __init__(self, code: str, sentence: str, *, field: str = "file") -> None:
        super().__init__(code, sentence, fields={field: sentence})


def counted(number: int, one: str, several: str) -> str:
    """``1 reading`` or ``1,204 readings``."""
    return f"{number:,} {one if number == 1 else several}"


def power(number: float, unit: str = "W") -> str:
    """A power for people: W (or VA) below one thousand, else kW (or kVA)."""
    if abs(number) < 1000:
        return f"{number:,.0f} {unit}"
    return f"{number / 1000:,.2f} k{unit}"


def length(seconds: float) -> str:
    """A span of time for people: the largest unit it fills exactly, else hours or minutes."""
    units = ((86_400, "day"), (3600, "hour"), (60, "minute"), (1, "second"))
    size, name = next(
        (one for one in units if seconds >= one[0] and not seconds % one[0]), units[3]
    )
    if name in ("minute", "second") and seconds >= 3600:
        size, name = units[1]
    number = f"{seconds / size:,.1f}".removesuffix(".0")
    return f"{number} {name}{'' if number == '1' else 's'}"
