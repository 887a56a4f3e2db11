"""Where does a value come from, and has anyone read it in the book?"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


class Mark(enum.StrEnum):
    """How a value was verified."""

    READ_2017 = "V17"
    READ = "V"
    SECOND_HAND = "2nd"
    MEMORY = "M"
    LOCAL = "local"

    @property
    def label(self) -> str:
        return {
            "V17": "read in NFPA 70-2017",
            "V": "read in the source named",
            "2nd": "known only from a summary",
            "M": "from memory",
            "local": "local amendment",
        }[self.value]

    @property
    def unread(self) -> bool:
        return self in (Mark.SECOND_HAND, Mark.MEMORY)


@dataclass(frozen=True, kw_only=True)
class Sourced(Generic[T]):
    """One value of a code edition with the section it stands in and how it was verified.

    `source` names what was read where that is not the code itself.
    """

    value: T
    cite: str
    mark: Mark
    note: str = ""
    source: str = ""

    @property
    def confirm(self) -> str:
        """What to tell the reader before relying on it; empty when it was read."""
        if not self.mark.unread:
            return ""
        return f"{self.cite}: {self.mark.label}; confirm against the printed code."
