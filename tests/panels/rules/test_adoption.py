"""Which edition applies where and when, and can one be added as data alone?"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from contractor.units import Q
from panels.editions import EDITIONS
from panels.rules import calculate
from panels.rules.adoption import Adoption, Amendment, amended, amendment_from, edition_for
from panels.rules.description import from_plain
from panels.rules.edition import values
from panels.rules.errors import BadDescription, UnknownEdition
from panels.rules.sourced import Mark, Sourced
from tests.panels.rules.homes import RANGE, home, va

TOWN = "Harrow Mills"
ROWS = (
    Adoption(place=TOWN, since=date(2019, 7, 1), edition="2017", source="Ordinance 4-2019"),
    Adoption(place=TOWN, since=date(2024, 3, 1), edition="2023", source="Ordinance 9-2024"),
    Adoption(place="Elsewhere", since=date(2021, 1, 1), edition="2020", source="Ordinance 1"),
)


def on(day: date, place: str = TOWN, rows: tuple[Adoption, ...] = ROWS) -> str:
    return edition_for(rows, place=place, on=day, editions=EDITIONS).key


def test_the_day_before_and_the_day_of_adoption() -> None:
    assert on(date(2024, 2, 29)) == "2017"
    assert on(date(2024, 3, 1)) == "2023"
    assert on(date(2019, 7, 1)) == "2017"
    assert on(date(2030, 1, 1), rows=tuple(reversed(ROWS))) == "2023"


def test_before_the_first_adoption_nothing_is_guessed() -> None:
    with pytest.raises(UnknownEdition, match=r"first recorded adoption is of 2019-07-01"):
        on(date(2019, 6, 30))


def test_an_unknown_place_is_asked_about() -> None:
    with pytest.raises(UnknownEdition, match="No adopted edition is recorded for Nowhere"):
        on(date(2025, 1, 1), place="Nowhere")
    with pytest.raises(UnknownEdition, match="for this place"):
        on(date(2025, 1, 1), place="")


def test_an_adopted_edition_that_is_not_known_here_is_named() -> None:
    rows = (Adoption(place=TOWN, since=date(2028, 1, 1), edition="2029", source="Ordinance 2"),)
    with pytest.raises(UnknownEdition, match=r"follows edition '2029'.*Known are 2017"):
        on(date(2029, 1, 1), rows=rows)


def test_an_edition_and_an_amendment_are_added_as_data_alone() -> None:
    """A made-up edition with a lighter unit load, and a town that keeps a smaller first tier."""
    before = EDITIONS["2026"]
    lighter = Sourced(value=Q(1.5, "VA/ft**2"), cite="120.41", mark=Mark.READ)
    invented = replace(
        before, key="2029", title="An invented edition",
        lighting=replace(before.lighting, unit_load=lighter),
    )  # fmt: skip
    change = Amendment(
        field="optional.demand",
        value=[{"up_to": "6 kVA", "factor": 1.0}, {"factor": 0.35}],
        source="Ordinance 3-2030",
    )
    row = Adoption(
        place=TOWN, since=date(2030, 1, 1), edition="2029", source="Ordinance 3-2030",
        amendments=(change,),
    )  # fmt: skip
    edition = edition_for(
        (*ROWS, row), place=TOWN, on=date(2030, 6, 1), editions=EDITIONS | {"2029": invented}
    )
    result = calculate("optional", from_plain(home(RANGE, area=2000)), edition)
    # 3000 + 3000 + 1500 + 12 000 = 19 500; 6000 + 35 % of 13 500.
    assert va(result, "load") == pytest.approx(6000 + 0.35 * 13_500)
    assert result.edition == "2029"
    assert result.amendments == (
        "optional.demand = 100 % to 6,000 VA, 35 % of the rest (Ordinance 3-2030)",
    )
    general = result.line("general")
    assert general.cite == "Ordinance 3-2030"
    assert "Local amendment in place of 120.82(B)" in general.note


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        ("optional.dmand", 1, "is not a value of an edition. There are optional.least_rating"),
        ("optional", 1, "is not a value of an edition"),
        ("lighting.unit_load", 2, "needs a number and its unit"),
        ("lighting.unit_load", "2 W/ft2", "is not a load per area"),
        ("lighting.unit_load", "2 VA", "is not a load per area"),
        ("appliances.factor", "75 %", "must be a number"),
        ("appliances.count", True, "must be a number"),
        ("neutral.reduced_on_wye_three_wire", 1, "must be true or false"),
        ("optional.demand", 0.4, "must be a list of tables"),
        ("optional.demand", [{"factor": 1.0}, {"factor": 0.4}], "open-ended"),
        ("optional.demand", [{"up_to": "8000 W", "factor": 1.0}, {"factor": 0.4}], "apparent"),
        ("cooking.table", [], "whole table"),
        ("ratings.standard", [15, 20], "whole table"),
    ],
)
def test_an_amendment_that_does_not_fit_is_refused(field: str, value: Any, says: str) -> None:
    with pytest.raises(BadDescription, match=says.replace("(", r"\(")):
        amended(EDITIONS["2017"], [Amendment(field=field, value=value, source="Ordinance 1")])


def test_an_amendment_names_its_source() -> None:
    with pytest.raises(BadDescription, match="source"):
        amendment_from({"field": "appliances.factor", "value": 0.8})
    with pytest.raises(BadDescription, match="Name the ordinance"):
        amended(EDITIONS["2017"], [Amendment(field="appliances.factor", value=0.8, source="")])


@pytest.mark.parametrize(
    ("field", "value", "expected"),
    [
        ("appliances.factor", 0.8, 0.8),
        ("appliances.count", 5, 5),
        ("lighting.unit_load", "33 VA/m2", 33 * 0.09290304),
        ("neutral.above", "150 A", 150),
        ("vehicles.if_unknown", "9.6 kVA", 9600),
        ("managed.allowed", True, True),
    ],
)
def test_an_amendment_takes_the_place_of_the_printed_value(
    field: str, value: Any, expected: float
) -> None:
    change = Amendment(field=field, value=value, source="Ordinance 1")
    local = dict(values(amended(EDITIONS["2017"], [change])))[field]
    number = getattr(local.value, "magnitude", local.value)
    assert number == pytest.approx(expected)
    assert (local.mark, local.cite, local.confirm) == (Mark.LOCAL, "Ordinance 1", "")
    assert dict(values(EDITIONS["2017"]))[field].mark is not Mark.LOCAL
