"""Are likely duplicates found for reasons a person would give?"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contractor.duplicates import Who, likeness, plain_name

# Likely and unlikely pairs as an office would sort them: common practice, no source.
HOME = frozenset({("118 Mill Race", "43099")})
AVERY = Who("Avery Quill", "+16145550142", "avery@mail.example", HOME)


@pytest.mark.parametrize(
    ("other", "likely"),
    [
        (Who("Someone Else", phone="+16145550142"), True),
        (Who("A. Quill", email="AVERY@mail.example"), True),
        (Who("Avery Quill", places=frozenset({("118 mill race.", "43099-1234")})), True),
        (Who("Quill, Avery (Dr.)", places=frozenset({("118 Mill Race", "43099")})), True),
        (Who("Avery Quil", places=frozenset({("118 Mill Race", "43099")})), True),
        (Who("Avery Quill"), False),
        (Who("Avery Quill", phone="+16145550143"), False),
        (Who("Rowan Sedge", places=frozenset({("118 Mill Race", "43099")})), False),
        (Who("Rowan Sedge", places=frozenset({("118 Mill Race", "43098")})), False),
        (Who("Avery Quill", places=frozenset({("", "43099")})), False),
    ],
)
def test_pairs_as_an_office_would_sort_them(other: Who, likely: bool) -> None:
    assert likeness(AVERY, other).is_likely is likely


def test_each_shared_thing_is_told() -> None:
    assert [str(reason) for reason in likeness(AVERY, AVERY).reasons] == [
        "same phone",
        "same e-mail",
        "same address",
        "same name",
    ]


@pytest.mark.parametrize("name", ["Avery Quill", "QUILL, avery", "Mr. Avery  Quill", "Quill Avery"])
def test_one_name_in_many_hands(name: str) -> None:
    assert plain_name(name) == "avery quill"


names = st.text(st.characters(codec="utf-8"), max_size=20)
people = st.builds(Who, names, st.sampled_from(["", "+1"]), st.sampled_from(["", "a@b"]))


@given(people, people)
def test_likeness_is_mutual_and_empty_things_are_not_shared(one: Who, other: Who) -> None:
    assert likeness(one, other) == likeness(other, one)
    assert not likeness(Who(one.name), Who(other.name)).is_likely
