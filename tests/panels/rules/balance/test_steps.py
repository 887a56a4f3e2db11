"""Moves in an order that can be carried out."""

from __future__ import annotations

import pytest

from panels.rules.balance import Move, propose
from panels.rules.balance.steps import Kind, in_order
from panels.rules.layout import Frame, Numbering, System, seat
from tests.bench.bench_balance import filled

FRAME = Frame(spaces=12, numbering=Numbering.ACROSS, system=System.SPLIT_240)


def move(index, was, now):
    return Move(
        index=index, was=seat(FRAME, space=was, poles=1), now=seat(FRAME, space=now, poles=1)
    )


def test_a_free_space_is_filled_first_and_frees_the_next():
    steps = in_order([move(0, 1, 3), move(1, 3, 5)], staying=[])
    assert [(step.kind, step.moves[0].index) for step in steps] == [
        (Kind.MOVE, 1), (Kind.MOVE, 0),
    ]  # fmt: skip


def test_two_in_each_others_place_swap():
    (step,) = in_order([move(0, 1, 3), move(1, 3, 1)], staying=[])
    assert (step.kind, len(step.moves)) == (Kind.SWAP, 2)


def test_three_in_a_ring_need_one_laid_aside():
    steps = in_order([move(0, 1, 3), move(1, 3, 5), move(2, 5, 1)], staying=[])
    assert [step.kind for step in steps] == [Kind.ASIDE, Kind.MOVE, Kind.MOVE, Kind.MOVE]
    assert steps[-1].moves[0].index == steps[0].moves[0].index


@pytest.mark.parametrize("seed", range(6))
def test_no_step_puts_a_breaker_where_another_still_is(seed):
    frame, breakers = filled(System.WYE_208, seed=seed)
    told = propose(frame, breakers)
    at = {i: one.seat_in(frame) for i, one in enumerate(breakers)}
    staying = [there for i, there in at.items() if i not in {m.index for m in told.moved}]
    for step in in_order(told.moved, staying):
        for one in step.moves:
            at.pop(one.index, None)
        for one in step.moves if step.kind is not Kind.ASIDE else ():
            assert not any(one.now.overlaps(there) for there in at.values())
            at[one.index] = one.now
    assert [at[m.index] for m in told.moved] == [m.now for m in told.moved]
    assert len(at) == len(breakers)
