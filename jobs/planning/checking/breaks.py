"""When is work over that pauses for the day's breaks, and when must it begin?"""

from __future__ import annotations

from collections.abc import Sequence

from jobs.planning.problem import Span


def forward(start: int, work: int, breaks: Sequence[Span]) -> int:
    """When `work` units begun at `start` are done. Breaks are in order and apart."""
    now, left = start, work
    for pause in breaks:
        if now >= pause.end:
            continue
        if not left or now + left <= pause.start:
            break
        left -= max(0, pause.start - now)
        now = pause.end
    return now + left


def backward(end: int, work: int, breaks: Sequence[Span]) -> int:
    """The latest start from which `work` units are done at `end`."""
    now, left = end, work
    for pause in reversed(breaks):
        if now <= pause.start:
            continue
        if not left or now - left >= pause.end:
            break
        left -= max(0, now - pause.end)
        now = pause.start
    return now - left


def between(start: int, end: int, breaks: Sequence[Span]) -> int:
    """Units from start to end that are not in a break."""
    paused = sum(max(0, min(end, each.end) - max(start, each.start)) for each in breaks)
    return end - start - paused
