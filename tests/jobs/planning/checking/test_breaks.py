"""Is work that pauses for breaks reckoned the same forwards, backwards and minute by minute?"""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from jobs.planning.checking.breaks import backward, between, forward
from jobs.planning.problem import Span

NOON = Span(start=720, end=750)
PAUSES = st.lists(st.integers(0, 300), max_size=6, unique=True).map(
    lambda times: [
        Span(start=start, end=end)
        for start, end in zip(sorted(times)[::2], sorted(times)[1::2], strict=False)
    ]
)


def test_a_break_is_passed_over() -> None:
    assert forward(700, 20, [NOON]) == 720
    assert forward(700, 21, [NOON]) == 751
    assert backward(751, 21, [NOON]) == 700
    assert backward(750, 20, [NOON]) == 700
    assert between(700, 751, [NOON]) == 21


@given(start=st.integers(-50, 350), work=st.integers(0, 200), pauses=PAUSES)
def test_forward_is_minute_by_minute(start: int, work: int, pauses: list[Span]) -> None:
    now, left = start, work
    while left:
        left -= not any(each.start <= now < each.end for each in pauses)
        now += 1
    assert forward(start, work, pauses) == now
    assert between(start, now, pauses) == work


@given(end=st.integers(-50, 350), work=st.integers(1, 200), pauses=PAUSES)
def test_backward_is_the_latest_start(end: int, work: int, pauses: list[Span]) -> None:
    start = backward(end, work, pauses)
    assert forward(start, work, pauses) <= end
    assert forward(start + 1, work, pauses) > end
