"""The solver by itself keeps what the arithmetic before it would have kept anyway."""

from __future__ import annotations

import pytest

from panels.rules.balance import Breaker
from panels.rules.balance.bodies import bodies_of, seated
from panels.rules.balance.placement import Limits, place
from panels.rules.layout import Frame, Numbering, System

FRAME = Frame(spaces=12, numbering=Numbering.ACROSS, system=System.WYE_208)


@pytest.mark.parametrize("by_moves", [True, False])
def test_two_of_a_multiwire_group_never_share_a_leg(by_moves):
    breakers = [
        Breaker(name=f"Sign {space}", space=space, va=900, multiwire="M1") for space in (1, 2, 7)
    ]
    bodies, _notes = bodies_of(FRAME, breakers, seated(FRAME, breakers))
    found = place(FRAME, bodies, frozenset({"M1"}), limits=Limits(), by_moves=by_moves, effort=1.0)
    assert found is not None
    assert sorted(spot.seats[0].legs[0] for spot in found.spots) == ["A", "B", "C"]
    assert found.bound == (2 if by_moves else 0)


def test_limits_that_cannot_be_kept_have_no_arrangement():
    breakers = [Breaker(name="Sign", space=1, va=900)]
    bodies, _notes = bodies_of(FRAME, breakers, seated(FRAME, breakers))
    limits = Limits(most_spread=0)
    assert place(FRAME, bodies, frozenset(), limits=limits, by_moves=True, effort=1.0) is None
