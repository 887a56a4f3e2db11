"""Does the tree of panels roll up leg by leg, judge what it can, and say what it cannot?"""

from __future__ import annotations

import random
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription
from panels.rules.feeders.answer import Loaded, Study, answer, read, study
from panels.rules.feeders.finding import Finding
from panels.rules.questions import QUESTIONS
from panels.rules.working import from_plain, to_plain

HOME = {
    "floor_area": "1500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1,
    "loads": [{"kind": "range", "nameplate": "12 kW"}],
}  # fmt: skip


def load(name: str, amount: str, **said: Any) -> dict[str, Any]:
    return {"name": name, "load": amount} | said


def plain(**change: Any) -> dict[str, Any]:
    """A main panel and a garage panel in its spaces 5 and 7, every load on record."""
    wire = {"size": "6", "metal": "cu", "raceway": "pvc", "length": "60 ft"}
    main = [
        {"space": 1, "poles": 2, "rating": "50 A", "loads": [load("Range", "9.6 kVA")]},
        {"space": 2, "rating": "20 A", "name": "Kitchen", "loads": [load("Toaster", "1200 VA")]},
        {"space": 5, "poles": 2, "rating": "60 A", "feeds": "Garage", "conductor": wire},
        {"space": 6, "rating": "20 A", "duty": "spare"},
    ]
    car = load("Car", "32 A", continuous=True)
    garage = [
        {"space": 1, "rating": "20 A", "name": "Bench", "loads": [load("Saw", "15 A")]},
        {"space": 2, "poles": 2, "rating": "40 A", "name": "Car", "loads": [car]},
    ]
    return {
        "service": {"system": "1ph-240", "occupancy": "one_family"},
        "panels": [
            {"name": "Main", "rating": "200 A", "main": "200 A", "circuits": main},
            {"name": "Garage", "rating": "100 A", "spaces": 12, "circuits": garage},
        ],
    } | change


def worked(said: dict[str, Any], year: str = "2020") -> Study:
    return study(read(said), edition(year))


def panel(said: dict[str, Any], name: str) -> Loaded:
    return next(one for one in worked(said).panels if one.box.name == name)


def finding(said: dict[str, Any], name: str, check: str) -> Finding:
    return next(one for one in panel(said, name).findings if one.check == check)


def garage_of(said: dict[str, Any]) -> list[dict[str, Any]]:
    return said["panels"][1]["circuits"]  # type: ignore[no-any-return]


def test_each_leg_carries_its_own_circuits_and_those_below() -> None:
    """Across numbering: spaces 1 and 2 stand on A, 3 and 4 on B, 5 and 6 on A again."""
    assert panel(plain(), "Garage").legs == pytest.approx({"A": 15 + 32, "B": 32})
    assert panel(plain(), "Main").legs == pytest.approx({"A": 40 + 10 + 47, "B": 40 + 32})


def test_continuous_load_is_taken_at_125_percent_for_devices_and_conductors() -> None:
    garage = panel(plain(), "Garage")
    assert garage.legs_counted == pytest.approx({"A": 15 + 40, "B": 40})
    device = finding(plain(), "Garage", "device")
    assert (device.state, device.left_a) == ("pass", pytest.approx(5))


def test_a_device_marked_for_its_full_rating_needs_no_125_percent() -> None:
    said = plain()
    said["panels"][0]["circuits"][2] |= {"rating": "50 A", "full_rated": True}
    assert finding(said, "Garage", "device").left_a == pytest.approx(50 - 47)
    said["panels"][0]["circuits"][2]["full_rated"] = False
    assert finding(said, "Garage", "device").state == "fail"


def test_a_subpanel_of_two_legs_keeps_them_on_the_legs_of_its_breaker() -> None:
    """A two-leg panel fed from B and C of a three-phase one: its A is B there."""
    said = plain(service={"system": "3ph-208"})
    said["panels"][1]["system"] = "1ph-208"
    garage_of(said)[:] = [{"space": 1, "rating": "20 A", "loads": [load("Saw", "1200 VA")]}]
    said["panels"][0]["circuits"] = [
        {"legs": "BC", "rating": "60 A", "feeds": "Garage"},
    ]
    main = panel(said, "Main")
    assert main.legs["B"] == pytest.approx(1200 / 120.09, rel=1e-3)
    assert main.legs["A"] == main.legs["C"] == 0


def test_behind_a_transformer_every_leg_counts_as_the_fullest() -> None:
    """9,006.7 VA on each leg of 208 V behind 480 V: 25 A become 25 × 208 / 480."""
    said = plain(service={"system": "3ph-480"})
    bank = {"rating": "45 kVA", "percent_z": 3.0, "secondary_protected": "125 A"}
    said["panels"][1] |= {"system": "3ph-208", "transformer": bank}
    garage_of(said)[:] = [{"legs": "ABC", "rating": "40 A", "loads": [load("Oven", "9006.7 VA")]}]
    said["panels"][0]["circuits"] = [{"legs": "ABC", "rating": "70 A", "feeds": "Garage"}]
    assert panel(said, "Garage").legs["A"] == pytest.approx(25, rel=1e-3)
    assert panel(said, "Main").legs["A"] == pytest.approx(25 * 208 / 480, rel=1e-3)
    assert finding(said, "Garage", "device").left_a == pytest.approx(70 - 25 * 208 / 480, rel=1e-3)
    assert finding(said, "Garage", "secondary").state == "fail"  # 125 A on a bus of 100 A


def test_a_circuit_without_a_load_is_named_and_nothing_passes_on_it() -> None:
    said = plain()
    garage_of(said)[0]["loads"] = []
    for name in ("Garage", "Main"):
        found = finding(said, name, "panel")
        assert (found.state, found.record) == ("cannot tell", "the load")
        assert "Garage 1 Bench" in found.sentence


def test_what_is_on_record_can_fail_a_panel_while_something_is_missing() -> None:
    said = plain()
    garage_of(said)[0]["loads"] = []
    garage_of(said)[1]["loads"] = [load("Car", "120 A")]
    found = finding(said, "Garage", "panel")
    assert (found.state, "at least" in found.sentence) == ("fail", True)


def test_a_load_to_neutral_whose_leg_is_not_recorded_counts_on_each() -> None:
    said = plain()
    garage_of(said)[1]["loads"] = [load("Lamp", "1200 VA", volts=120)]
    assert panel(said, "Garage").legs == pytest.approx({"A": 25, "B": 10})
    garage_of(said)[1]["loads"] = [load("Lamp", "1200 VA", volts=120, leg="B")]
    assert panel(said, "Garage").legs == pytest.approx({"A": 15, "B": 10})


def test_the_dwellings_method_judges_what_carries_all_of_it_and_nothing_below() -> None:
    done = worked(plain(dwelling=HOME, method="optional"))
    main, garage = done.panels
    assert main.basis == "by the dwelling's method"
    assert garage.basis == "as connected"
    assert done.dwelling is not None
    assert main.drawn.continuous_a == pytest.approx(done.dwelling.value("current").m_as("A"))  # type: ignore[union-attr]
    found = answer(done.site, edition("2020"))
    assert found.line("dwelling").value == done.dwelling.value("load")
    assert "do not hold for a part" in found.line("basis").note


def test_two_panels_side_by_side_carry_no_whole_dwelling() -> None:
    said = plain(dwelling=HOME)
    said["panels"].append({"name": "Pool", "rating": "60 A"})
    assert {one.basis for one in worked(said).panels} == {"as connected"}


def test_lighting_by_area_is_spread_evenly_over_its_circuits() -> None:
    """1500 ft2 at 3 VA/ft2 over three circuits; a small-appliance circuit is 1500 VA."""
    said = plain(dwelling=HOME)
    garage_of(said)[:] = [
        {"space": 1, "rating": "15 A", "name": "Lights", "use": "general"},
        {"space": 2, "rating": "15 A", "name": "Lights", "use": "general"},
        {"space": 3, "rating": "15 A", "name": "Lights", "use": "general"},
        {"space": 4, "rating": "20 A", "name": "Counter", "use": "small_appliance"},
    ]
    garage = panel(said, "Garage")
    assert garage.carried.va == pytest.approx(4500 + 1500)
    assert garage.carried.unknown == []


def test_of_loads_that_never_run_together_each_panel_counts_the_largest_it_has() -> None:
    """Heat of 9,600 VA in the garage or 7,200 VA in the house: 40 A there, 40 A above, not 70."""
    said = plain()
    heat = load("Heat", "9600 VA", one_of="heat or cool")
    garage_of(said)[:] = [{"space": 1, "poles": 2, "rating": "50 A", "loads": [heat]}]
    cool = load("Cooling", "7200 VA", one_of="heat or cool")
    said["panels"][0]["circuits"][0]["loads"] = [cool]
    said["panels"][0]["circuits"][1]["loads"] = []
    assert panel(said, "Garage").legs == pytest.approx({"A": 40, "B": 40})
    assert panel(said, "Main").legs == pytest.approx({"A": 40, "B": 40})
    assert panel(said, "Main").carried.va == pytest.approx(9600)


def test_a_load_on_no_circuit_is_listed_and_never_dropped() -> None:
    found = answer(read(plain(unplaced=[load("Welder", "5 kVA")])), edition("2020"))
    assert found.line("unplaced").label == "Welder"
    assert "Not placed on a circuit" in found.line("unplaced").note


@pytest.mark.parametrize(
    ("size", "device", "state"),
    [("6", "60 A", "pass"), ("6", "70 A", "cannot tell"), ("6", "80 A", "fail")],
)
def test_a_device_may_be_the_next_rating_above_the_ampacity(
    size: str, device: str, state: str
) -> None:
    """6 AWG copper: 55 A at 60 °C, so 60 A; 65 A at 75 °C, so 70 A with marked terminals."""
    said = plain()
    feeder = said["panels"][0]["circuits"][2]
    feeder["rating"] = device
    feeder["conductor"]["size"] = size
    found = finding(said, "Garage", "protection")
    assert found.state == state
    assert "240.4(B): from memory" in found.confirm


def test_the_service_conductors_of_a_dwelling_may_be_83_percent() -> None:
    """2/0 copper carries 175 A; 83 % of 200 A is 166 A (Table 310.16, 310.12)."""
    conductor = {"size": "2/0", "metal": "cu"}
    said = plain(service={"system": "1ph-240", "conductor": conductor})
    assert finding(said, "Main", "protection").state == "fail"
    entire = finding(said | {"dwelling": HOME}, "Main", "protection")
    assert (entire.state, entire.cite) == ("pass", "310.12")


def test_a_bus_behind_too_large_a_device_fails_and_behind_none_cannot_be_told() -> None:
    said = plain()
    said["panels"][0]["circuits"][2]["rating"] = "125 A"
    assert finding(said, "Garage", "bus").left_a == -25
    del said["panels"][0]["main"]
    assert finding(said, "Main", "bus").record == "the main breaker"


def test_lugs_pass_on_the_device_ahead_of_the_panel_they_are_in() -> None:
    said = plain()
    said["panels"].append({"name": "Annex", "rating": "100 A", "through": "Garage"})
    found = finding(said, "Annex", "bus")
    assert (found.state, found.left_a) == ("pass", 40)


@given(seed=st.integers(0, 10_000))
@settings(max_examples=25, deadline=None)
def test_the_order_of_panels_and_circuits_does_not_matter(seed: int) -> None:
    said, turned = plain(), deepcopy(plain())
    rng = random.Random(seed)
    rng.shuffle(turned["panels"])
    for one in turned["panels"]:
        rng.shuffle(one["circuits"])
    told, again = (
        {(one.box.name, leg): at for one in worked(way).panels for leg, at in one.legs.items()}
        for way in (said, turned)
    )
    assert again == pytest.approx(told)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"feeds": "Shed"}, "No panel here is named 'Shed'"),
        ({"feeds": "Main"}, "is fed by Main itself"),
        ({"space": 43}, "there is no space 43"),
        ({"poles": 1}, "has 2 legs and is fed by a breaker of 1"),
        ({"rating": "60 kVA"}, "not a current"),
        ({"conductor": {"size": "7"}}, "is not a conductor size"),
    ],
)
def test_what_cannot_be_is_refused_in_words(change: dict[str, Any], sentence: str) -> None:
    said = plain()
    said["panels"][0]["spaces"] = 42
    said["panels"][0]["circuits"][2] |= change
    with pytest.raises(BadDescription, match=sentence):
        read(said)


@pytest.mark.parametrize("year", sorted(EDITIONS))
def test_the_roll_up_is_a_question_whose_answer_can_be_kept(year: str) -> None:
    asked = QUESTIONS["feeders"]
    found = asked.answer(asked.read(plain(dwelling=HOME)), edition(year))
    assert from_plain(to_plain(found)) == found
