"""What must be let go, at once and to reach the morning; and what is refused, in words."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contractor.units import Q
from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription
from panels.rules.questions import answer
from panels.rules.standby.answer import OUTAGE
from panels.rules.standby.assumptions import DAYS, SEASONS
from panels.rules.standby.description import outage_from
from panels.rules.working import Result
from tests.panels.rules.standby.outages import outage

PUMP = {"name": "Well pump", "running": "1 kW", "motor": True, "shed_order": 2}


def worked(**changed: Any) -> Result:
    return answer("outage", outage(**changed), edition("2017"))


def test_each_stage_lasts_by_its_own_load() -> None:
    """10 kWh at 2.7 kW, then at 0.7 kW."""
    result = worked()
    assert result.value("lasts_0").m_as("h") == pytest.approx(10 / 2.7)
    assert result.value("lasts_1").m_as("h") == pytest.approx(10 / 0.7)
    assert result.line("lasts").how == "until 2026-01-15 21:42"


def test_the_least_shedding_that_reaches_the_morning_is_named() -> None:
    line = worked(until="07:00").line("shed_to_reach")
    assert line.value == "up to 1 off"
    assert line.how == "13 h later. Off: Range"


def test_where_no_stage_reaches_the_morning_it_says_by_how_much() -> None:
    result = worked(storage=[{"usable": "5 kWh", "inverter": "5 kW", "efficiency": 1.0}])
    assert result.value("shed_to_reach") == "no stage is enough"
    assert result.value("short_by").m_as("h") == pytest.approx(13 - 5 / 0.7)


def test_what_is_above_the_inverter_must_go_at_once() -> None:
    result = worked(storage=[{"usable": "10 kWh", "inverter": "2 kW"}])
    assert result.value("lasts_0") == Q(0, "h")
    assert result.value("shed_at_once") == "up to 1 off"
    assert "More than is there" in result.line("connected_0").note


def test_a_start_is_the_motor_on_top_of_the_running_load() -> None:
    loads = [*outage()["loads"], PUMP]
    storage = [{"usable": "10 kWh", "inverter": "5 kW", "surge": "8 kVA"}]
    result = worked(loads=loads, storage=storage)
    assert result.value("start_0").m_as("kVA") == pytest.approx(3.7 + 6)
    assert "common practice, no source" in result.line("start_0").note
    assert "Over the surge limit by 1.7 kVA" in result.line("start_0").note
    assert result.value("start_1").m_as("kVA") == pytest.approx(1.7 + 6)
    assert "Within" in result.line("start_1").note
    assert result.value("shed_at_once") == "up to 1 off"


def test_a_recorded_starting_current_stands_for_the_rule_of_thumb() -> None:
    pump = {**PUMP, "starting": "20 A", "volts": 240}
    result = worked(loads=[pump])
    assert result.value("start_0").m_as("kVA") == pytest.approx(1 + 4.8)
    assert "common practice" not in result.line("start_0").note


def test_stages_are_let_go_as_the_charge_falls() -> None:
    """2.7 kW down to half of 10 kWh, then 0.7 kW: 1.75 h (the quarter it falls in) and the rest."""
    plan = outage_from(outage(let_go_at_percent=50)).plan
    assert [(one.step, one.stage, one.short) for one in plan.moments] == [(8, 1, False)]
    assert plan.lasts == pytest.approx(2 + (10 - 2 * 2.7) / 0.7)


def test_a_stage_that_cannot_be_carried_is_let_go_in_that_quarter_hour() -> None:
    asked = outage(
        let_go_at_percent=0, storage=[{"usable": "10 kWh", "inverter": "2 kW", "efficiency": 1.0}]
    )
    plan = outage_from(asked).plan
    assert [(one.step, one.stage, one.short) for one in plan.moments] == [(0, 1, True)]
    assert plan.lasts == pytest.approx(10 / 0.7)


loads = st.lists(
    st.fixed_dictionaries(
        {
            "name": st.just("Load"),
            "running": st.integers(10, 3000).map(lambda watts: f"{watts} W"),
            "habit": st.sampled_from(sorted(DAYS)),
        },
        optional={"shed_order": st.integers(1, 5), "motor": st.booleans()},
    ),
    min_size=1,
    max_size=8,
)
days = st.dates(dt.date(2026, 1, 1), dt.date(2026, 12, 31))
begins = st.builds("{} {:02}:30".format, days, st.integers(0, 23))
quietly = settings(deadline=None, max_examples=25)


@quietly
@given(loads=loads, start=begins, usable=st.integers(1, 40), peak=st.integers(1, 12))
def test_shedding_more_never_lasts_shorter(
    loads: list[dict[str, Any]], start: str, usable: int, peak: int
) -> None:
    storage = [{"usable": f"{usable} kWh", "inverter": "4 kW"}]
    solar = [{"peak": f"{peak} kW"}]
    found = outage_from(outage(loads=loads, start=start, storage=storage, solar=solar))
    lasts = [found.lasts(stage) for stage in found.stages]
    assert lasts == sorted(lasts)


@quietly
@given(loads=loads, start=begins, usable=st.integers(1, 40), percent=st.integers(0, 100))
def test_letting_go_on_the_way_never_goes_dark_sooner(
    loads: list[dict[str, Any]], start: str, usable: int, percent: int
) -> None:
    storage = [{"usable": f"{usable} kWh", "inverter": "4 kW"}]
    held = outage_from(outage(loads=loads, start=start, storage=storage))
    free = outage_from(outage(loads=loads, start=start, storage=storage, let_go_at_percent=percent))
    assert free.plan.lasts >= held.plan.lasts - 1e-6


def test_the_meter_is_split_by_the_stated_shares() -> None:
    rows = [
        {"name": "Kitchen", "running": "1 kW", "share": 0.5, "shed_order": 1},
        {"name": "Rest", "running": "1 kW", "share": 0.25},
    ]
    result = worked(loads=rows, metered=[4000.0] * 192)
    assert result.value("lasts_0").m_as("h") == pytest.approx(10 / 3)
    assert result.value("lasts_1").m_as("h") == pytest.approx(10)


def test_energy_of_a_day_is_no_power() -> None:
    """The trap: 59 kWh a day are 2.46 kW on the mean, and no demand at all."""
    with pytest.raises(BadDescription, match=r"59 kWh is not a power"):
        worked(loads=[{"name": "Whole house", "running": "59 kWh"}])
    with pytest.raises(BadDescription, match=r"5 kWh is not a real power"):
        worked(storage=[{"usable": "10 kWh", "inverter": "5 kWh"}])
    with pytest.raises(BadDescription, match="10 kW is not"):
        worked(storage=[{"usable": "10 kW", "inverter": "5 kW"}])
    with pytest.raises(BadDescription, match="11 kW is not an apparent power"):
        worked(generator={"rating": "11 kW"})


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"start": "tomorrow"}, "start"),
        ({"start": "2026-01-15T18:00+00:00"}, "start"),
        ({"hours": 400}, "hours"),
        ({"until": "noon"}, "until"),
        ({"shed": 9}, "shed"),
        ({"storage": None, "solar": [{"peak": "5 kW"}]}, "storage"),
        ({"loads": []}, "loads"),
        ({"metered": [100.0]}, "metered"),
        ({"order": ["solar"]}, "order"),
        ({"loads": [{"name": "A", "running": "1 kW", "habit": "sleeping"}]}, "loads[1].habit"),
        ({"loads": [{"name": "A", "running": "1 kW", "starting": "20 A"}]}, "loads[1].starting"),
        ({"generator": {"rating": "9 kVA", "fuel": 10}}, "generator.full_per_h"),
        ({"generator": {"rating": "9 kVA", "altitude": "40000 ft"}}, "generator.altitude"),
        ({"solar": [{"peak": "5 kW", "hourly": [1]}]}, "solar[1].hourly"),
        ({"storage": [{"usable": "5 kWh", "inverter": "1 kW", "soc": 1}]}, "storage[1].soc"),
    ],
)
def test_a_description_that_cannot_be_used_names_its_field(
    changed: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadDescription) as caught:
        worked(**changed)
    assert caught.value.field == field


def test_derating_is_from_memory_until_it_is_stated() -> None:
    high = {"rating": "10 kVA", "altitude": "2000 ft", "temperature_f": 97}
    memory = worked(generator=high)
    assert memory.value("capacity").m_as("kVA") == pytest.approx(10 * (1 - 0.07 - 0.02))
    assert "from memory" in memory.line("height").confirm
    stated = worked(generator={**high, "percent_per_1000_ft": 2, "percent_per_10_f": 0.5})
    assert stated.value("capacity").m_as("kVA") == pytest.approx(10 * (1 - 0.04 - 0.01))
    assert not stated.line("height").confirm


def test_assumptions_say_that_they_have_no_source() -> None:
    result = worked(
        loads=[{"name": "Range", "running": "8 kW", "habit": "range"}],
        solar=[{"peak": "5 kW"}],
        storage=[{"usable": "9 kWh", "inverter": "4 kW"}],
    )
    for key in ("lasts", "deliverable", "solar_peak"):
        assert "our own assumption, no source" in result.line(key).note


def test_habits_are_whole_days_and_whole_years() -> None:
    assert all(len(day) == 24 and min(day) >= 0 and max(day) <= 1 for day in DAYS.values())
    assert all(len(year) == 12 and max(year) == 1 for year in SEASONS.values())


@pytest.mark.parametrize("year", sorted(EDITIONS))
def test_every_edition_answers_and_cites_its_transfer_rules(year: str) -> None:
    result = OUTAGE.answer(OUTAGE.read(outage()), EDITIONS[year])
    assert result.line("transfer").cite == "702.5"
    assert bool(result.line("transfer").confirm) is (year != "2017")
    assert result.value("energy_off") == Q(0, "kWh")
