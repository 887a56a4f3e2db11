"""Any plain description is shown whole: no field that was given is left out."""

from __future__ import annotations

from hypothesis import given as over
from hypothesis import strategies as st

from panels.worksheet.given import amount, given, words

CONDUCTOR = {
    "load": "40 A",
    "length": {"value": 150, "unit": "ft"},
    "continuous": True,
    "harmonics": None,
    "service": {"system": "1ph-240", "rating": "200 A"},
    "panels": [{"name": "Main panel", "rating": "200 A"}, {"name": "Garage", "spaces": 12}],
}


def test_simple_fields_come_first_and_tables_after_them() -> None:
    assert list(given(CONDUCTOR)) == [
        ("Load", "40 A", "", ""),
        ("Length", "150 ft", "", ""),
        ("Continuous", "yes", "", ""),
        ("Service", "", "", "system 120/240 V, single phase; rating 200 A"),
        ("Panels: Main panel", "", "", "rating 200 A"),
        ("Panels: Garage", "", "", "spaces 12"),
    ]


def test_a_profile_is_counted_and_a_short_list_is_said() -> None:
    assert amount([0.5] * 8760) == "8760 values"
    assert amount(["A", "B"]) == "A, B"


def test_each_table_within_a_table_has_its_own_line() -> None:
    circuits = [{"name": "Range", "space": 1, "conductor": {"metal": "cu"}}, {"space": 3}]
    assert list(given({"panels": [{"name": "Main", "bus": "200 A", "circuits": circuits}]})) == [
        ("Panels: Main", "", "", "bus 200 A"),
        ("Main, Range", "", "", "space 1; conductor (metal copper)"),
        ("Panels: Main. Circuits", "", "", "space 3"),
    ]


@over(st.dictionaries(st.from_regex(r"[a-z]{1,8}", fullmatch=True), st.text(min_size=1)))
def test_every_simple_field_is_shown(plain: dict[str, str]) -> None:
    assert [row[:2] for row in given(plain)] == [(words(k), amount(v)) for k, v in plain.items()]
