"""Are wrong tries counted per key, and forgiven after their time?"""

import time

import pytest
from django.core.cache import cache

from contractor.guesses import Guesses, TooMany

GUESSES = Guesses("tests", limit=3, minutes=10)


def test_the_tries_are_used_up_one_by_one_for_each_key() -> None:
    for _each in range(3):
        GUESSES.check("one")
        GUESSES.count("one")
    with pytest.raises(TooMany) as refused:
        GUESSES.check("one")
    assert refused.value.status == 429
    assert refused.value.wait_seconds == 600
    GUESSES.check("other")


def test_a_forgiven_key_starts_afresh() -> None:
    for _each in range(3):
        GUESSES.count("one")
    GUESSES.forgive("one")
    GUESSES.check("one")


def test_the_clock_starts_with_the_first_try_and_is_not_wound_up_by_others() -> None:
    GUESSES.count("one")
    cache.touch("guesses:tests:one", 2)
    GUESSES.count("one")
    assert cache.get("guesses:tests:one") == 2
    time.sleep(2.1)
    assert cache.get("guesses:tests:one") is None


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0.2, "1 second"), (45, "45 seconds"), (60, "1 minute"), (61, "2 minutes")],
)
def test_the_wait_is_told_in_whole_words(seconds: float, words: str) -> None:
    assert words in TooMany(seconds).sentence
