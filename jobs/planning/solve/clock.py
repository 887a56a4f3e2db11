"""How long does a search go on, and how hot is it by now?"""

from __future__ import annotations

import time

LOOK = 0.1  # seconds between two looks at the clock, where time is given
PART = 250  # rounds between two looks, where their number is given
HOT, COLD = 1.0, 0.01


class Clock:
    """Counts seconds from its making on, and rounds as it is told them. With a number of rounds
    nothing but stopping depends on time, so that a search can be repeated."""

    def __init__(self, seconds: float | None, rounds: int | None) -> None:
        self.seconds, self.rounds = seconds, rounds
        self.began = time.monotonic()
        self.found = 0.0

    @property
    def elapsed(self) -> float:
        return time.monotonic() - self.began

    def next_part(self, done: int) -> int:
        """How many rounds to do before the next look; 0: it is over."""
        left = None if self.seconds is None else self.seconds - self.elapsed
        if left is not None and left <= 0:
            return 0
        if self.rounds is not None:
            return min(PART, self.rounds - done)
        pace = done / self.elapsed if done else 50.0
        return max(1, int(pace * min(LOOK, left or LOOK)))

    def heat(self, done: int) -> float:
        """From hot to cold as time (or rounds) goes by, geometrically."""
        if self.rounds is not None:
            passed = done / max(self.rounds, 1)
        else:
            passed = self.elapsed / (self.seconds or 1.0)
        return float(HOT * (COLD / HOT) ** min(passed, 1.0))
