"""How often may someone guess wrong before they must wait?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from django.core.cache import cache
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from contractor.errors import Refused


class TooMany(Refused):
    """Too many tries; the next one counts after `wait_seconds` (RFC 6585, 4: 429)."""

    status = 429

    def __init__(self, wait_seconds: float) -> None:
        self.wait_seconds = max(1, math.ceil(wait_seconds))
        super().__init__("too_many_tries", _("Too many tries. Try again in %s.") % self.wait)

    @property
    def wait(self) -> str:
        if self.wait_seconds < 60:
            words = ngettext("%s second", "%s seconds", self.wait_seconds)
            return words % self.wait_seconds
        minutes = math.ceil(self.wait_seconds / 60)
        return ngettext("%s minute", "%s minutes", minutes) % minutes


@dataclass(frozen=True)
class Guesses:
    """`limit` wrong tries per key (an address, a person) within `minutes`, counted atomically.

    The count lives in the shared cache: losing it forgives, it never locks anyone out.
    """

    name: str
    limit: int
    minutes: int

    def check(self, key: str) -> None:
        """Raises TooMany once the tries of this key are used up."""
        if cache.get(self._entry(key), 0) >= self.limit:
            raise TooMany(self.minutes * 60)

    def count(self, key: str) -> None:
        """One more try. The first one starts the clock."""
        entry = self._entry(key)
        cache.add(entry, 0, self.minutes * 60)
        try:
            cache.incr(entry)
        except ValueError:  # ran out between the two
            cache.set(entry, 1, self.minutes * 60)

    def forgive(self, key: str) -> None:
        cache.delete(self._entry(key))

    def _entry(self, key: str) -> str:
        return f"guesses:{self.name}:{key}"
