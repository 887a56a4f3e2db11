"""Does a refusal tell a program what it needs to go on?"""

from __future__ import annotations

from contractor.api.errors import answer
from contractor.errors import Refused
from contractor.guesses import TooMany


def test_who_must_wait_is_told_how_long() -> None:
    told = answer(TooMany(61.2), {})
    assert told is not None
    assert (told.status_code, told["Retry-After"]) == (429, "62")
    other = answer(Refused("no", "No."), {})
    assert other is not None
    assert not other.has_header("Retry-After")
