"""Names offered while recording: common practice, no source; 408.4(A) asks that they differ."""

from __future__ import annotations

import re

from panels.rules.names import COMMON, Common, best_first, offered

# Persons and occupancies (DIR2): what a directory may not say. 408.4(A), NFPA 70-2017.
SOMEONE = re.compile(r"'s\b|’s\b|\b(mary|bobby|mom|dad|kid|master|tenant|owner|guest)\b", re.I)


def test_no_name_is_tied_to_an_occupant_and_no_two_are_alike():
    assert not [common.name for common in COMMON if SOMEONE.search(common.name)]
    assert len({(common.name, common.poles) for common in COMMON}) == len(COMMON)
    assert max(len(common.name) for common in COMMON) <= 80


def test_every_usual_rating_has_something_to_offer():
    for poles, ratings in {1: (15, 20), 2: (20, 30, 40, 50, 60), 3: (20, 30, 40, 60)}.items():
        for rating in ratings:
            assert any(one.fits(rating_a=rating, poles=poles) for one in COMMON)


def test_a_used_name_goes_or_counts_on():
    names = [one.name for one in offered(["Range", "bathroom receptacles"])]
    assert "Range" not in names
    assert "Bathroom receptacles" not in names
    assert "Bathroom receptacles 2" in names
    again = [one.name for one in offered(["Bathroom receptacles", "Bathroom receptacles 2"])]
    assert "Bathroom receptacles 3" in again


def test_the_firms_own_names_come_first_and_once():
    own = [Common(name="Koi pond", ratings=(20,)), Common(name="Dishwasher", ratings=(20,))]
    names = [one.name for one in offered([], own)]
    assert names[:2] == ["Koi pond", "Dishwasher"]
    assert names.count("Dishwasher") == 1


def test_a_name_for_two_poles_and_for_three_is_offered_once_for_the_breaker_at_hand():
    for rating, poles in ((30, 2), (40, 3), (20, 1)):
        names = best_first(offered([]), rating_a=rating, poles=poles)
        told = [one.name for one in names]
        assert len(told) == len(set(told))
        fitting = [one.fits(rating_a=rating, poles=poles) for one in names]
        assert fitting == sorted(fitting, reverse=True)
        assert next(one for one in names if one.name == "Water heater").poles == max(poles, 2)
