"""What do the rooms above have to tell someone at the head of their day?"""

from __future__ import annotations

from dataclasses import dataclass

from django.conf import settings
from django.utils.module_loading import import_string

from contractor.models import Person


@dataclass(frozen=True)
class DayNote:
    """A line and the page it leads to."""

    text: str
    url: str


def day_notes(person: Person) -> list[DayNote]:
    """The notes of `DAY_NOTES` in that order; a room with nothing to tell gives None."""
    asked = (import_string(name)(person) for name in settings.DAY_NOTES)
    return [note for note in asked if note is not None]
