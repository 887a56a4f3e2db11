"""What is the highest demand on record, averaged as the metered method asks?"""

from __future__ import annotations

from collections import deque

from panels.rules.meter.series import Reading, Series

QUARTER = 900


def demand(series: Series) -> Reading:
    """The highest reading; of finer readings the highest average held for 15 minutes."""
    if series.interval >= QUARTER:
        return series.peak
    window: deque[Reading] = deque()
    energy, span = 0.0, 0
    best: Reading | None = None
    for reading in series:
        if window and window[-1].end != reading.start:
            window.clear()
            energy, span = 0.0, 0
        window.append(reading)
        energy += reading.power * reading.seconds
        span += reading.seconds
        while span - window[0].seconds >= QUARTER:
            gone = window.popleft()
            energy -= gone.power * gone.seconds
            span -= gone.seconds
        if span >= QUARTER and (best is None or energy / span > best.power):
            best = Reading(window[0].start, span, round(energy / span, 6))
    return best or series.peak
