"""Places for breakers against an exhaustive search of small panels, written apart from the solver.

The definitions are common practice, no source: single phase |A - B|, three phase the largest leg
less the smallest; a move is a breaker, tandem or quad that changes its place.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.rules.balance import Breaker, propose
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.layout import Frame, Half, LayoutError, Numbering, System, seat
from tests.bench.bench_balance import filled

SYSTEMS = [System.SPLIT_240, System.WYE_208, System.DELTA_240, System.WYE_208_2LEG]


def exhaustive(frame, breakers):
    """(imbalance, moves) of the best lawful arrangement, by trying every seat of every breaker."""
    here = [one.seat_in(frame) for one in breakers]
    best = None
    for there in arrangements(frame, breakers, here, []):
        if lawful(frame, breakers, here, there):
            found = (spread(frame, breakers, there), moved(breakers, here, there))
            best = found if best is None else min(best, found)
    return best


def arrangements(frame, breakers, here, seats):
    if len(seats) == len(breakers):
        yield seats
        return
    one = breakers[len(seats)]
    for space in [one.space] if one.locked else range(1, frame.spaces + 1):
        try:
            there = seat(frame, space=space, poles=one.poles, half=one.half)
        except LayoutError:
            continue
        if not any(there.overlaps(other) for other in seats):
            yield from arrangements(frame, breakers, here, [*seats, there])


def lawful(frame, breakers, here, there):
    for i, one in enumerate(breakers):
        high = frame.system is System.DELTA_240 and there[i].legs == ("B",)
        if high and not one.locked:
            return False
        for j in range(i):
            if set(here[i].spaces) & set(here[j].spaces):
                if step(frame, here[i], here[j]) != step(frame, there[i], there[j]):
                    return False
            elif set(there[i].spaces) & set(there[j].spaces):
                return False
    groups = {one.multiwire for one in breakers if one.multiwire}
    return all(group_stands(frame, breakers, there, group) for group in groups)


def step(frame, one, other):
    (column, row), (other_column, other_row) = (frame.place(s.spaces[0]) for s in (one, other))
    return column - other_column, row - other_row


def group_stands(frame, breakers, there, group):
    mine = [i for i, one in enumerate(breakers) if one.multiwire == group]
    legs = [leg for i in mine for leg in there[i].legs]
    places = sorted(frame.place(there[i].spaces[0]) for i in mine)
    adjacent = all(a[0] == b[0] and a[1] + 1 == b[1] for a, b in pairwise(places))
    return len(set(legs)) == len(legs) and (adjacent or not breakers[mine[0]].tied)


def spread(frame, breakers, seats):
    legs = dict.fromkeys(frame.system.legs, 0)
    for one, where in zip(breakers, seats, strict=True):
        for leg in where.legs:
            legs[leg] += (one.va or 0) / len(where.legs)
    return round(max(legs.values()) - min(legs.values()), 6)


def moved(breakers, here, there):
    changed = [i for i in range(len(breakers)) if here[i] != there[i]]
    return sum(
        not any(set(here[i].spaces) & set(here[j].spaces) for j in changed if j < i)
        for i in changed
    )


@st.composite
def panels(draw, most=8):
    system = draw(st.sampled_from(SYSTEMS))
    spaces = draw(st.integers(4, most))
    frame = Frame(
        spaces=spaces,
        numbering=draw(st.sampled_from(Numbering)),
        system=system,
        tandem=frozenset(draw(st.sets(st.integers(1, spaces), max_size=3))),
    )
    found = []
    for space in range(1, spaces + 1):
        if len(found) < 6:
            found += breakers_at(draw, frame, space, found)
    return frame, found


def breakers_at(draw, frame, space, found):
    shape = draw(st.sampled_from(["", "1", "1", "1", "2", "3", "tandem", "quad", "tied", "multi"]))
    va = st.one_of(st.none(), st.integers(0, 40).map(lambda n: n * 45))
    down = place_below(frame, space)
    parts = {
        "": [], "1": [(space, 1, None)], "2": [(space, 2, None)], "3": [(space, 3, None)],
        "tandem": [(space, 1, Half.UPPER), (space, 1, Half.LOWER)],
        "quad": [(space, 2, Half.LOWER), (space, 1, Half.UPPER)],
        "tied": [(space, 1, None), (down, 1, None)],
        "multi": [(space, 1, None), (down, 1, None)],
    }[shape]  # fmt: skip
    group = f"M{space}" if shape in ("tied", "multi") else ""
    made = []
    for first, poles, half in parts:
        one = Breaker(
            name=f"{first}{half.value if half else ''}", space=first or 0, poles=poles, half=half,
            va=draw(va), locked=draw(st.integers(0, 7)) == 0, multiwire=group, tied=shape == "tied",
        )  # fmt: skip
        try:
            there = one.seat_in(frame)
        except LayoutError:
            return []
        if any(there.overlaps(other.seat_in(frame)) for other in [*found, *made]):
            return []
        made.append(one)
    if shape == "quad":
        lock = any(one.locked for one in made)
        made = [Breaker(**{**vars(one), "locked": lock}) for one in made]
    if shape == "tandem" and made[0].locked != made[1].locked:
        made = [Breaker(**{**vars(one), "locked": True}) for one in made]
    return made


def place_below(frame, space):
    column, row = frame.place(space)
    return frame.number(column, row + 1)


@settings(max_examples=60, deadline=None)
@given(panels())
def test_no_arrangement_is_better_and_none_as_good_takes_fewer_moves(panel):
    frame, breakers = panel
    best = exhaustive(frame, breakers)
    if best is None:
        with pytest.raises(NotCovered):
            propose(frame, breakers)
        return
    told = propose(frame, breakers)
    assert (round(told.imbalance, 6), told.moves) == best
    assert told.proven


def big(seed, system=System.SPLIT_240, spaces=42):
    """A panel as the bench fills them."""
    return filled(system, seed=seed, spaces=spaces)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("seed", range(3))
def test_a_full_size_panel_keeps_every_rule_of_the_layout(system, seed):
    frame, breakers = big(seed, system)
    told = propose(frame, breakers)
    here = [one.seat_in(frame) for one in breakers]
    now = list(here)
    for move in told.moved:
        one = breakers[move.index]
        now[move.index] = seat(frame, space=move.now.spaces[0], poles=one.poles, half=one.half)
        assert now[move.index] == move.now
        assert not one.locked
    for i, there in enumerate(now):
        assert not any(there.overlaps(other) for other in now[:i])
    assert lawful(frame, breakers, here, now)
    assert spread(frame, breakers, now) == round(told.imbalance, 6)
    assert moved(breakers, here, now) == told.moves
    assert told.proven


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_the_list_changes_nothing_in_what_is_reached(seed):
    frame, breakers = big(seed, System.WYE_208, spaces=24)
    one = propose(frame, breakers)
    other = propose(frame, breakers[::-1])
    assert (one.imbalance, one.moves) == (other.imbalance, other.moves)
    assert propose(frame, breakers) == one


@settings(max_examples=25, deadline=None)
@given(panels(), st.integers(0, 4))
def test_fewer_moves_reach_less_and_never_more_than_allowed(panel, most):
    frame, breakers = panel
    try:
        free = propose(frame, breakers)
        told = propose(frame, breakers, most_moves=most)
    except NotCovered:
        return
    assert told.moves <= most
    assert told.imbalance >= free.imbalance
    if most >= free.moves:
        assert (told.imbalance, told.moves) == (free.imbalance, free.moves)
    reach = [rung.least for rung in free.rungs if rung.moves <= most]
    assert told.imbalance >= min(reach, default=0)


@settings(max_examples=40, deadline=None)
@given(panels())
def test_a_lawful_panel_never_gets_worse(panel):
    frame, breakers = panel
    here = [one.seat_in(frame) for one in breakers]
    if not lawful(frame, breakers, here, here):
        return
    told = propose(frame, breakers)
    assert told.imbalance <= told.imbalance_before
    if told.imbalance == told.imbalance_before:
        assert told.moves == 0


def single(space, va, **said):
    return Breaker(name=f"Circuit {space}", space=space, va=va, **said)


def test_a_panel_in_balance_is_left_alone():
    frame = Frame(spaces=8, numbering=Numbering.ACROSS, system=System.SPLIT_240)
    told = propose(frame, [single(1, 500), single(3, 500)])
    assert (told.imbalance, told.moves, told.moved, told.proven) == (0, 0, (), True)


def test_nothing_single_pole_is_put_on_the_high_leg():
    frame = Frame(spaces=12, numbering=Numbering.ACROSS, system=System.DELTA_240)
    told = propose(frame, [single(1, 900), single(2, 800), single(7, 700)])
    assert all(move.now.legs != ("B",) for move in told.moved)
    wrong = propose(frame, [single(3, 900)])
    assert wrong.moved[0].now.legs != ("B",)


def test_a_tie_recorded_apart_is_held_and_said():
    frame = Frame(spaces=8, numbering=Numbering.ACROSS, system=System.SPLIT_240)
    tied = {"multiwire": "1", "tied": True}
    told = propose(frame, [single(1, 900, **tied), single(7, 800, **tied), single(2, 300)])
    assert all(move.index == 2 for move in told.moved)
    assert "not full-size and next to each other" in told.notes[0]
    alone = propose(frame, [single(1, 900, tied=True), single(2, 300)])
    assert "not with which breaker" in alone.notes[0]


def test_a_multiwire_group_on_one_leg_is_put_right_or_told():
    frame = Frame(spaces=8, numbering=Numbering.ACROSS, system=System.SPLIT_240)
    told = propose(frame, [single(1, 900, multiwire="1"), single(5, 100, multiwire="1")])
    legs = [frame.leg(1), frame.leg(5)]
    for move in told.moved:
        legs[move.index] = move.now.legs[0]
    assert sorted(legs) == ["A", "B"]
    assert "puts them on different legs" in told.notes[0]
    held = propose(
        frame, [single(1, 9, multiwire="1", locked=True), single(5, 1, multiwire="1", locked=True)]
    )
    assert "Look at it" in held.notes[0]


def test_a_space_taken_twice_is_named():
    frame = Frame(spaces=8, numbering=Numbering.ACROSS, system=System.SPLIT_240)
    with pytest.raises(BadDescription, match=r"circuits\[2\].*taken by Circuit 1"):
        propose(frame, [single(1, 900), single(1, 800)])


def test_locked_breakers_can_leave_no_way():
    frame = Frame(spaces=2, numbering=Numbering.ACROSS, system=System.SPLIT_240)
    group = [single(1, 9, multiwire="1", locked=True), single(2, 9, multiwire="1")]
    with pytest.raises(NotCovered, match="Unlock one"):
        propose(frame, group)
