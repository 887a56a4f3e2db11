"""Is a site placed by its ZIP code, and doubted in words when the two do not fit?"""

import pytest

from contractor.places import doubts, look_up

# Values of the zipcodes library, version 3.0.


def test_a_zip_code_gives_place_and_time_zone() -> None:
    place = look_up("43215")
    assert place is not None
    assert (place.latitude, place.longitude) == (39.9671, -83.0044)
    assert place.time_zone == "America/New_York"
    assert look_up("43215-1234") == place


@pytest.mark.parametrize("text", ["", "43", "ABCDE", "00000"])
def test_what_is_no_zip_code_has_no_place(text: str) -> None:
    assert look_up(text) is None


@pytest.mark.parametrize(
    ("city", "state", "zip_code", "said"),
    [
        ("Columbus", "OH", "43215", ""),
        (" columbus ", "OH", "43215", ""),
        ("Westerville", "OH", "43081", ""),
        ("Columbus", "OH", "43081", ""),  # an accepted name there
        ("Harrow Mills", "OH", "43215", "know ZIP code 43215 as Columbus"),
        ("Columbus", "PA", "43215", "have ZIP code 43215 in OH"),
        ("Harrow Mills", "OH", "43099", "do not know ZIP code 43099"),
    ],
)
def test_doubts_are_told_and_nothing_else(city: str, state: str, zip_code: str, said: str) -> None:
    told = " ".join(doubts(city=city, state=state, zip_code=zip_code))
    assert (said in told) if said else (told == "")
