"""The load by its meter (220.87): what opens it, 125 %, and what still fits.

No published numeric example was found; the figures here are worked by hand from the rule as read
in NFPA 70-2017 (mark C), the first from a published sample file (check values, section 6).
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.questions import answer
from panels.rules.working import Result

CAR = {"kind": "vehicle", "name": "Car", "nameplate": "11.5 kVA"}
SERVICE = {"system": "1ph-240", "rating": "200 A"}


def ask(ed: str = "2017", **said: Any) -> Result:
    plain = {
        "demand": "12300 VA", "days": 365, "interval": "15 min", "renewable": False,
        "service": SERVICE, "new_loads": [CAR],
    }  # fmt: skip
    given = {name: value for name, value in (plain | said).items() if value is not None}
    return answer("metered", given, edition(ed))


def amount(result: Result, key: str) -> float:
    value: Any = result.value(key)
    return round(float(value.magnitude), 2)


def test_the_sample_file_carries_9_9_amperes_and_2962_va() -> None:
    result = ask(demand="2.37 kW", power_factor=1.0, interval="60 min", new_loads=None)
    assert amount(result, "demand") == 2370
    assert round(2370 / 240, 1) == 9.9
    assert amount(result, "existing") == amount(result, "load") == 2962.5
    assert "understate" in result.line("interval").note
    assert "fewest VA" in result.line("power_factor").note


def test_a_quarter_is_added_to_the_demand_and_not_to_the_new_load() -> None:
    result = ask()
    assert amount(result, "existing") == 15_375
    assert amount(result, "new") == 11_500
    assert amount(result, "load") == 26_875
    assert amount(result, "current") == round(26_875 / 240, 2)
    assert amount(result, "rating") == 125
    assert amount(result, "left") == round(200 - 26_875 / 240, 2)
    assert amount(result, "left_va") == 48_000 - 26_875


def test_what_does_not_fit_says_so() -> None:
    result = ask(service={"system": "1ph-240", "rating": "100 A"})
    assert result.line("left").label == "Not enough on 100 A"
    assert amount(result, "left_va") == 24_000 - 26_875


@pytest.mark.parametrize(
    ("said", "va"),
    [
        ({"demand": "12.3 kW", "power_factor": 0.95}, round(12_300 / 0.95, 2)),
        ({"demand": "12.3 kVA"}, 12_300),
        ({"demand": "50 A"}, 12_000),
        ({"demand": "50 A", "service": {"system": "3ph-208"}}, round(50 * 208 * 3**0.5, 2)),
        ({"demand": {"value": 12.3, "unit": "kVA"}}, 12_300),
    ],
)
def test_a_demand_in_any_form_becomes_va(said: dict[str, Any], va: float) -> None:
    assert amount(ask(**said), "demand") == va


@pytest.mark.parametrize(
    ("said", "field", "words"),
    [
        ({"demand": "12 kWh"}, "demand", "is energy, not demand"),
        ({"demand": "12 ft"}, "demand", "no demand"),
        ({"demand": "0 kW", "power_factor": 1.0}, "demand", "nothing at all"),
        ({"demand": None}, "demand", "is missing"),
        ({"demand": "12 kW"}, "power_factor", "real power"),
        ({"demand": "12 kW", "power_factor": 1.2}, "power_factor", "at most 1"),
        ({"days": None}, "days", "is missing"),
        ({"days": 0}, "days", "whole number"),
        ({"interval": None}, "interval", "is missing"),
        ({"interval": "15"}, "interval", "needs a number and its unit"),
        ({"interval": "15 ft"}, "interval", "not in min"),
        ({"interval": "24 h"}, "interval", "average over 15 minutes"),
        ({"renewable": None}, "renewable", "solar, wind, storage or peak shaving"),
        ({"renewable": "no"}, "renewable", "true or false"),
        ({"service": None}, "service", "is missing"),
        ({"service": {"system": "9ph"}}, "service.system", "is not known"),
        ({"new_loads": [{"nameplate": "5 kWh"}]}, "new_loads[1].nameplate", "is not a load"),
        ({"new_loads": [{"nameplate": "20 A"}]}, "new_loads[1].volts", "is missing"),
        ({"new_loads": [{}]}, "new_loads[1].nameplate", "is missing"),
        ({"days": 60, "occupied": True}, "additions", "does not see every season"),
        ({"occupant": True}, "occupant", "is not a field here"),
    ],
)
def test_what_is_missing_or_wrong_is_named(said: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadDescription, match=words) as refused:
        ask(**said)
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"renewable": True}, "source of its own"),
        ({"days": 29, "occupied": True, "additions": []}, "at least 30 days"),
        ({"days": 90, "additions": []}, "occupied"),
        ({"days": 90, "occupied": True, "additions": [], "interval": "30 min"}, "15 minutes"),
    ],
)
def test_a_recording_that_does_not_open_the_method_is_refused(
    said: dict[str, Any], words: str
) -> None:
    with pytest.raises(NotCovered, match=words) as refused:
        ask(**said)
    assert refused.value.cite.startswith("220.87")


def test_thirty_days_need_what_did_not_run_and_the_larger_of_heat_and_cooling() -> None:
    loads = [
        {"kind": "cooling", "name": "A/C", "nameplate": "20 A", "volts": 240},
        {"kind": "heating", "name": "Strip", "nameplate": "5 kW"},
        {"name": "Pool pump", "nameplate": "1500 VA"},
    ]
    result = ask(days=30, occupied=True, additions=loads)
    assert amount(result, "additions") == 6500
    assert amount(result, "existing") == (12_300 + 6500) * 1.25
    assert result.line("days").cite == "220.87(1) Exception"
    assert ask(days=365).line("days").cite == "220.87(1)"


@pytest.mark.parametrize("key", EDITIONS)
def test_every_edition_answers_by_its_own_section(key: str) -> None:
    result = ask(key)
    article = {"2026": "120.87"}.get(key, "220.87")
    cites = result.line("existing").cite
    assert cites == f"{article}(2)"
    assert bool(result.line("existing").confirm) == (key == "2026")
    assert any("renewable" in text for text in result.cautions)


def test_vehicle_equipment_counts_as_its_edition_says() -> None:
    small = {"kind": "vehicle", "name": "Car", "nameplate": "3 kVA"}
    assert amount(ask("2017", new_loads=[small]), "new") == 3000
    assert amount(ask("2023", new_loads=[small]), "new") == 7200


AMOUNT = st.integers(1, 40_000)


@given(one=AMOUNT, more=AMOUNT, new=AMOUNT)
def test_more_demand_or_more_new_load_never_leaves_more(one: int, more: int, new: int) -> None:
    def left(demand: int, load: int) -> float:
        loads = [{"name": "New", "nameplate": f"{load} VA"}]
        return amount(ask(demand=f"{demand} VA", new_loads=loads), "left_va")

    assert left(one + more, new) <= left(one, new)
    assert left(one, new + more) <= left(one, new)


@given(parts=st.lists(AMOUNT, min_size=1, max_size=6), chance=st.randoms())
def test_the_order_of_new_loads_makes_no_difference(parts: list[int], chance: Any) -> None:
    loads = [{"name": f"Load {n}", "nameplate": f"{part} VA"} for n, part in enumerate(parts)]
    shuffled = list(loads)
    chance.shuffle(shuffled)
    assert amount(ask(new_loads=loads), "load") == amount(ask(new_loads=shuffled), "load")
    assert amount(ask(new_loads=loads), "new") == sum(parts)
