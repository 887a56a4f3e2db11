"""Do the editions hold what the published text or its summaries say, each value with its mark?"""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from contractor.units import Q
from panels.editions import EDITIONS, edition
from panels.rules.edition import Edition, values
from panels.rules.errors import UnknownEdition
from panels.rules.sourced import Mark
from tests.panels.rules.homes import home, va, worked

ALL = [pytest.param(edition, id=key) for key, edition in EDITIONS.items()]


def load_per_area(edition: Edition) -> float:
    return float(edition.lighting.unit_load.value.m_as("VA/ft**2"))


def test_an_unknown_edition_names_those_there_are() -> None:
    assert edition("2017").title == "NFPA 70-2017"
    with pytest.raises(UnknownEdition, match="Choose one of 2017, 2020, 2023, 2026"):
        edition("2014")


@pytest.mark.parametrize("edition", ALL)
def test_every_value_names_its_section(edition: Edition) -> None:
    found = values(edition)
    assert len(found) > 50
    assert not [path for path, value in found if not value.cite]


def test_2017_was_read_first_hand_but_for_what_it_does_not_say() -> None:
    unread = {
        path
        for path, value in values(edition("2017"))
        if value.mark is not Mark.READ_2017 and not path.startswith("shop.")
    }
    assert unread == {
        "cooking.note_5",
        "cooking.circuit_least",
        "cooking.circuit_least_from",
        "vehicles.least",
        "vehicles.if_unknown",
        "vehicles.within_optional_tiers",
        "managed.allowed",
        "existing.untouched_within_tiers",
        "ratings.fraction_dropped",
        "wire.carrying.next_size_through",
        "wire.carrying.parallel_from",
        "wire.dwelling.rated",
        "wire.grounding.to_rod",
        "wire.grounding.to_concrete",
        "standby.conductor_factor",
        "recorded.source_bars",
        "checks.taps",
        "checks.in_force.ocp1_bus",  # common practice, no source
        "fault.panel_marking",
        "fault.disconnect",
    }


@pytest.mark.parametrize("key", ["2020", "2023", "2026"])
def test_a_value_changed_later_says_how_it_is_known(key: str) -> None:
    keys = list(EDITIONS)
    before = dict(values(EDITIONS[keys[keys.index(key) - 1]]))
    changed = {
        path: value for path, value in values(EDITIONS[key]) if value.value != before[path].value
    }
    assert changed
    assert all(value.mark is not Mark.READ_2017 for value in changed.values())
    read = [value for value in changed.values() if value.mark is Mark.READ]
    assert all(value.source for value in read)
    assert "not read in full" in EDITIONS[key].basis


def test_what_differs_between_the_editions() -> None:
    by_key = EDITIONS.items()
    assert {key: load_per_area(e) for key, e in by_key} == {
        "2017": 3, "2020": 3, "2023": 3, "2026": 2,
    }  # fmt: skip
    circuits = {e.lighting.unit_load_for_circuits.value for _, e in by_key}
    assert circuits == {Q(3.0, "VA/ft**2")}
    assert {key: e.optional.demand.value.slices[0][0].m_as("VA") for key, e in by_key} == {  # type: ignore[union-attr]
        "2017": 10_000, "2020": 10_000, "2023": 10_000, "2026": 8000,
    }  # fmt: skip
    assert {key: e.vehicles.least.value.m_as("VA") for key, e in by_key} == {
        "2017": 0, "2020": 0, "2023": 7200, "2026": 0,
    }  # fmt: skip
    assert {key: e.managed.allowed.value for key, e in by_key} == {
        "2017": False, "2020": False, "2023": True, "2026": True,
    }  # fmt: skip
    assert {key: e.climate.noncoincident.value for key, e in by_key} == {
        "2017": 1, "2020": 1.25, "2023": 1.25, "2026": 1.25,
    }  # fmt: skip


def test_article_220_is_article_120_from_2026_on() -> None:
    for key in ("2017", "2020", "2023"):
        assert not [value.cite for _, value in values(EDITIONS[key]) if "120." in value.cite]
    assert not [path for path, value in values(EDITIONS["2026"]) if "220." in value.cite]
    assert EDITIONS["2026"].neutral.household.cite == "120.61(B)(1)"
    assert EDITIONS["2026"].ratings.standard.cite == "240.6(A)"


# NFPA 70-2017, Table 220.55, typed a second time: rows from, columns A and B in percent, C in kW.
COOKING = """
1 80 80 8 | 2 75 65 11 | 3 70 55 14 | 4 66 50 17 | 5 62 45 20 | 6 59 43 21 | 7 56 40 22
8 53 36 23 | 9 51 35 24 | 10 49 34 25 | 11 47 32 26 | 12 45 32 27 | 13 43 32 28 | 14 41 32 29
15 40 32 30 | 16 39 28 31 | 17 38 28 32 | 18 37 28 33 | 19 36 28 34 | 20 35 28 35 | 21 34 26 36
22 33 26 37 | 23 32 26 38 | 24 31 26 39 | 25 30 26 40 | 26 30 24 41 | 30 30 24 45 | 31 30 22 46
40 30 22 55 | 41 30 20 55.75 | 50 30 20 62.5 | 51 30 18 63.25 | 60 30 18 70 | 61 30 16 70.75
"""


@pytest.mark.parametrize(
    "row", [row.split() for row in COOKING.replace("|", "\n").split("\n") if row]
)
def test_the_cooking_table_row_by_row(row: list[str]) -> None:
    count, a, b, c = (float(number) for number in row)
    band = edition("2017").cooking.table.value.at(int(count), cite="")
    column_c = (band.base + band.each * count).m_as("kVA")
    assert (band.a * 100, band.b * 100, column_c) == pytest.approx((a, b, c))


@pytest.mark.parametrize("edition", ALL)
def test_the_tables_fall_or_rise_as_they_should(edition: Edition) -> None:
    dryers = edition.dryers.factors.value
    factors = [dryers.at(n, cite="").factor(n) for n in range(1, 60)]
    assert factors == sorted(factors, reverse=True)
    rows = [edition.cooking.table.value.at(n, cite="") for n in range(1, 80)]
    assert [row.a for row in rows] == sorted((row.a for row in rows), reverse=True)
    assert [row.b for row in rows] == sorted((row.b for row in rows), reverse=True)
    column_c = [(row.base + row.each * n).m_as("VA") for n, row in enumerate(rows, start=1)]
    assert column_c == sorted(column_c)
    multifamily = [edition.multifamily.factors.value.at(n, cite="") for n in range(3, 80)]
    assert multifamily == sorted(multifamily, reverse=True)


def test_the_energy_management_rule_is_refused_where_there_is_none() -> None:
    plain = home({"kind": "vehicle", "nameplate": "11.5 kVA", "managed": True}, managed_at="24 A")
    for key in ("2017", "2020"):
        with pytest.raises(Refused, match="no rule that lets a set point stand"):
            worked(plain, "standard", key)
    for key in ("2023", "2026"):
        result = worked(plain, "standard", key)
        assert va(result, "managed") == 24 * 240
        assert any("set point holds only" in caution for caution in result.cautions)
