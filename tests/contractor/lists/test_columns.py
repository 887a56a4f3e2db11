"""Are headers recognised whatever their case and marks, and unknown ones named?"""

import pytest

from contractor.errors import Invalid
from contractor.lists import Column, Row, fit
from contractor.lists.columns import plain

COLUMNS = [
    Column("name", "Customer", also=("client", "name"), required=True),
    Column("zip", "ZIP code", also=("postal code",)),
]


def row(**values: str) -> Row:
    return Row(2, {header.replace("_", " "): text for header, text in values.items()})


def test_headers_differ_in_case_and_marks_only() -> None:
    assert plain(" Zip-Code ") == plain("ZIP  code") == plain("zip_code")


def test_a_known_header_becomes_our_field() -> None:
    fitted = fit([row(CLIENT="Avery", Postal_Code="43099", Colour="red")], COLUMNS)
    assert fitted.rows[0].values == {"name": "Avery", "zip": "43099"}
    assert fitted.header_of["zip"] == "Postal Code"
    assert fitted.unused == ["Colour"]


def test_an_unknown_column_without_a_word_in_it_is_not_worth_a_mention() -> None:
    assert fit([row(Client="Avery", Colour="")], COLUMNS).unused == []


def test_a_missing_column_is_named() -> None:
    with pytest.raises(Invalid, match="Customer"):
        fit([row(ZIP="43099")], COLUMNS)


def test_two_columns_of_one_meaning_are_refused() -> None:
    with pytest.raises(Invalid, match=r"Client.*Name"):
        fit([row(Client="Avery", Name="Avery")], COLUMNS)
