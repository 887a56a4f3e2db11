"""How is a value written down with its section and how it was verified?"""

from __future__ import annotations

from typing import TypeVar

from panels.rules.sourced import Mark, Sourced

T = TypeVar("T")


def read_2017(value: T, cite: str, note: str = "") -> Sourced[T]:
    """A value read directly in the text of NFPA 70-2017."""
    return Sourced(value=value, cite=cite, mark=Mark.READ_2017, note=note)


def read(value: T, cite: str, *, in_: str, note: str = "") -> Sourced[T]:
    """A value read in a source other than the code; `in_` names it."""
    return Sourced(value=value, cite=cite, mark=Mark.READ, note=note, source=in_)


def summarised(value: T, cite: str, *, in_: str, note: str = "") -> Sourced[T]:
    """A value known from a summary or a discussion, not from the text."""
    return Sourced(value=value, cite=cite, mark=Mark.SECOND_HAND, note=note, source=in_)


def remembered(value: T, cite: str, note: str = "") -> Sourced[T]:
    """A value nobody here has read in the book."""
    return Sourced(value=value, cite=cite, mark=Mark.MEMORY, note=note)
