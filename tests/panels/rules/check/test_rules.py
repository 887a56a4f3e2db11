"""Every rule, at least once with each outcome it can have.

Predicates and their sections: NFPA 70-2017 [V17] unless the case names another edition; tap
fractions 1/10 and 1/3 from memory [M]; a breaker above its bus: common practice, no source.
"""

from __future__ import annotations

import datetime as dt

import pytest

from panels.editions import edition
from panels.rules.check.checker import BY_KEY, RULES, check
from panels.rules.check.facts import Fed
from panels.rules.check.outcome import Outcome
from tests.panels.rules.check.records import (
    breaker,
    draw,
    first,
    found,
    house,
    inverter,
    plate,
    shop,
    torque,
)

DAY = dt.date(2026, 6, 1)
SUB = plate(
    id="sub", name="Shop panel", fed_from="Main panel", feeder_a=100, bus_a=125, main_a=None
)
KITCHEN = breaker("1", serves="receptacles", areas=("kitchen",), name="Kitchen counter, left")
KITCHEN_2 = breaker("2", serves="receptacles", areas=("kitchen", "dining"))
LAUNDRY = breaker("3", serves="receptacles", areas=("laundry",))
BATH = breaker("4", serves="receptacles", areas=("bathroom",))
BATH_ALL = breaker("4", serves="both", areas=("bathroom",))
GARAGE = breaker("5", serves="receptacles", areas=("garage", "outdoors"))
HALL = breaker("6", serves="lights", areas=("hallway",), rating_a=15)
UNKNOWN = breaker("7")
SPARE = breaker("8", kind="spare", name="")
LEFT = breaker("1", multiwire="A", legs=("A",), tied=True, serves="lights", grouped=True)
RIGHT = breaker("3", multiwire="A", legs=("B",), tied=True, serves="lights", grouped=True)
BOTH = breaker("1,3", multiwire="A", poles=2, legs=("A", "B"))
PAIR = {"position": "opposite", "labelled": True}
READY = {
    "disconnect_outdoors": True, "disconnect_marked": True, "disconnect_ka": 22.0,
    "available_ka": 10.0,
}  # fmt: skip
MARKED = {"fault_marked_ka": 22.0, "fault_marked_on": DAY}
WIRED = {"wire_size": "12", "wire_material": "cu"}
FEEDER = {"kind": "feeder", "rating_a": 100, "poles": 2, "legs": ("A", "B"), "wire_material": "cu"}
RANGE = {"poles": 2, "legs": ("A", "B"), "rating_a": 50, "wire_size": "8", "wire_material": "cu"}
TAP = {"kind": "feeder", "rating_a": 400, "wire_size": "8", "wire_material": "cu"}

P, F, N, U = Outcome.PASS, Outcome.FAIL, Outcome.NOT_APPLICABLE, Outcome.CANNOT_TELL
CASES = [
    # directory: 408.4
    ("dir1_named", P, house(HALL)), ("dir1_named", F, house(breaker(name=" "))),
    ("dir1_named", N, house(SPARE)),
    ("dir1_distinct", P, house(HALL, BATH)),
    ("dir1_distinct", F, house(breaker("1", name="Den plugs"), breaker("2", name="Den outlets"))),
    ("dir1_distinct", N, house(SPARE)),
    ("dir1_clear", P, house(breaker(name="Dishwasher"))),
    ("dir1_clear", F, house(breaker(name="Misc"))),
    ("dir1_clear", N, house(breaker(name="Spare"))), ("dir1_clear", N, house(SPARE)),
    ("dir2", P, house(breaker(name="Northeast bedroom lights"))),
    ("dir2", F, house(breaker(name="Bobbie’s room"))), ("dir2", N, house(SPARE)),
    ("dir3", P, house(SPARE)),
    ("dir3", F, house(breaker(name="Not used"))),
    ("dir3", N, house(HALL)),
    ("dir4", P, house(panel=plate(directory_at="Inside of the door"))),
    ("dir4", F, house(panel=plate(directory_at="Adjacent wall"))), ("dir4", U, house()),
    ("dir5", P, shop(panel=plate(fed_from="Main panel", supply_marked=True))),
    ("dir5", F, shop(panel=plate(fed_from="Main panel", supply_marked=False))),
    ("dir5", U, shop(panel=plate(fed_from="Main panel"))),
    ("dir5", U, house(panel=SUB, entrance=None)),
    ("dir5", N, house(panel=SUB)), ("dir5", N, shop()),
    # ratings: 408.36, 408.30, 240.4, 240.6, 240.21, 210.20
    ("ocp1", P, house()), ("ocp1", P, house(panel=SUB)), ("ocp1", F, house(panel=plate(bus_a=125))),
    ("ocp1", P, house(panel=plate(bus_a=125, fed_from="Main panel", feeder_a=100))),
    ("ocp1", U, house(panel=plate(main_a=None))),
    ("ocp1_bus", P, house(HALL)),
    ("ocp1_bus", F, house(breaker(rating_a=225))),
    ("ocp1_bus", N, house()),
    ("ocp2", P, house(calculated_a=200.0)),
    ("ocp2", F, house(calculated_a=200.1)),
    ("ocp2", U, house()),
    ("ocp3", N, house()), ("ocp3", U, house(panel=plate(transformer_kva=75.0))),
    ("ocp3", P, house(panel=plate(transformer_kva=75.0, secondary_protected_a=200.0))),
    ("ocp3", F, house(panel=plate(transformer_kva=75.0, secondary_protected_a=225.0))),
    ("ocp4_main", P, house()), ("ocp4_main", F, house(panel=plate(main_a=190))),
    ("ocp4_main", N, house(panel=plate(main_a=None))),
    ("ocp4_rating", P, house(HALL)), ("ocp4_rating", F, house(breaker(rating_a=33))),
    ("ocp4_rating", N, house()),
    ("ocp4_small", P, house(breaker(**WIRED))),
    ("ocp4_small", F, house(breaker(**WIRED, rating_a=25))),
    ("ocp4_small", N, house(breaker(wire_size="6", wire_material="cu"))),
    ("ocp4_small", N, house(breaker(**WIRED, rating_a=30, draws=(draw(kind="cooling"),)))),
    ("ocp4_small", N, house(SPARE)), ("ocp4_small", U, house(breaker(wire_size="12"))),
    ("ocp4_ampacity", P, house(breaker(**WIRED))),
    ("ocp4_ampacity", P, house(breaker(**RANGE, terminal_c=75))),
    ("ocp4_ampacity", F, house(breaker(**RANGE, terminal_c=60))),
    ("ocp4_ampacity", U, house(breaker(**RANGE))), ("ocp4_ampacity", U, house(UNKNOWN)),
    ("ocp4_ampacity", U, house(breaker(wire_size="3000", wire_material="cu"))),
    ("ocp4_ampacity", N, house(SPARE)),
    ("ocp4_ampacity", N, house(breaker(**TAP, tap_rule="10ft"))),
    ("ocp4_ampacity", U, house(breaker(**FEEDER, wire_size="4", terminal_c=75))),
    ("ocp4_ampacity", P, house(breaker(**FEEDER, wire_size="4", terminal_c=75),
     home={"is_feeder": True})),
    ("ocp4_ampacity", F, house(breaker(**FEEDER, wire_size="6", terminal_c=75),
     home={"is_feeder": True})),
    ("ocp5", P, house(breaker(kind="feeder"))), ("ocp5", N, house(HALL)),
    ("ocp5", P, house(breaker(**TAP, tap_rule="10ft", length_ft=10))),
    ("ocp5", F, house(breaker(**TAP, tap_rule="10ft", length_ft=10.5))),
    ("ocp5", F, house(breaker(**TAP, tap_rule="25ft", length_ft=20))),
    ("ocp5", P, house(breaker(**TAP, tap_rule="outside"))),
    ("ocp5", U, house(breaker(**TAP, tap_rule="25ft"))),
    ("ocp5", U, house(breaker(kind="feeder", tap_rule="10ft", length_ft=8))),
    ("load1", P, house(breaker(draws=(draw(1920.0, continuous=True),)))),
    ("load1", F, house(breaker(draws=(draw(1930.0, continuous=True),)))),
    ("load1", P, house(breaker(draws=(draw(2400.0, continuous=True),), full_rated=True))),
    ("load1", P, house(breaker(draws=(draw(2400.0),)))),
    ("load1", F, house(breaker(draws=(draw(2410.0),)))),
    ("load1", U, house(UNKNOWN)), ("load1", U, house(breaker(draws=(draw(None),)))),
    ("load1", N, house(HALL)),
    ("load1", U, shop(HALL)),
    ("load1", N, house(SPARE)),
    ("load1", N, house(breaker(kind="feeder"))),
    # required circuits: 210.11(C), 230.79(C)
    ("req1", P, house(KITCHEN, KITCHEN_2)), ("req1", F, house(KITCHEN, LAUNDRY)),
    ("req1", F, house(KITCHEN, breaker("2", serves="both", areas=("kitchen",)))),
    ("req1", P, house(breaker(poles=2, multiwire="A", serves="receptacles", areas=("kitchen",)))),
    ("req1", P, house(KITCHEN, elsewhere=(KITCHEN_2,))), ("req1", U, house(KITCHEN, UNKNOWN)),
    ("req1", N, house(panel=SUB)),
    ("req1", N, shop()),
    ("req1", U, house(entrance=None, home=None)),
    ("req2", P, house(LAUNDRY)), ("req2", F, house(HALL)), ("req2", U, house(UNKNOWN)),
    ("req2", F, house(breaker(serves="receptacles", areas=("laundry", "bathroom")))),
    ("req2", F, house(breaker(serves="receptacles", areas=("laundry",), rating_a=15))),
    ("req2", N, shop()),
    ("req3", P, house(BATH)), ("req3", P, house(BATH_ALL, home={"bathrooms": 1})),
    ("req3", F, house(BATH_ALL, home={"bathrooms": 2})), ("req3", U, house(BATH_ALL)),
    ("req3", F, house(HALL)), ("req3", N, shop()),
    ("req4", P, house(GARAGE, home={"has_garage": True})), ("req4", U, house(GARAGE)),
    ("req4", F, house(HALL, home={"has_garage": True})),
    ("req4", N, house(home={"has_garage": False})),
    ("req4", F, house(breaker(serves="receptacles", areas=("garage", "basement")),
     home={"has_garage": True})),
    ("req5", P, house(home={"service_a": 100})), ("req5", F, house(home={"service_a": 60})),
    ("req5", U, house(panel=plate(main_a=None))), ("req5", N, shop()),
    ("req5", N, house(home={"service_a": 60, "is_feeder": True})),
    ("req5", U, house(home={"service_a": 60}, entrance=None)),
    # multiwire: 210.4
    ("mwbc1_origin", P, house(LEFT, RIGHT)),
    ("mwbc1_origin", U, house(LEFT)),
    ("mwbc1_origin", N, house(HALL)),
    ("mwbc1_disconnect", P, house(LEFT, RIGHT)), ("mwbc1_disconnect", P, house(BOTH)),
    ("mwbc1_disconnect", F, house(LEFT, breaker("3", multiwire="a", legs=("B",), tied=False))),
    ("mwbc1_disconnect", U, house(LEFT, breaker("3", multiwire="A", legs=("B",)))),
    ("mwbc1_disconnect", U, house(LEFT)), ("mwbc1_disconnect", N, house(HALL)),
    ("mwbc1_loads", P, house(BOTH)), ("mwbc1_loads", P, house(LEFT, RIGHT)),
    ("mwbc1_loads", F, house(LEFT, breaker("3", multiwire="A", draws=(draw(volts=240.0),)))),
    ("mwbc1_loads", U, house(LEFT, breaker("3", multiwire="A"))), ("mwbc1_loads", N, house(HALL)),
    ("mwbc1_grouped", P, house(LEFT, RIGHT)), ("mwbc1_grouped", U, house(BOTH)),
    ("mwbc1_grouped", F, house(LEFT, breaker("3", multiwire="A", grouped=False))),
    ("mwbc1_grouped", N, house(HALL)),
    ("mwbc1_legs", P, house(LEFT, RIGHT)), ("mwbc1_legs", P, house(BOTH)),
    ("mwbc1_legs", F, house(LEFT, breaker("5", multiwire="A", legs=("A",)))),
    ("mwbc1_legs", U, house(LEFT)),
    ("mwbc1_legs", U, house(LEFT, breaker("3", multiwire="A", legs=()))),
    ("mwbc1_legs", N, house(HALL)),
    # arc-fault: 210.12(A)
    ("afci", P, house(breaker(areas=("bedroom",), protection="afci"))),
    ("afci", P, house(breaker(protection="dual"))),
    ("afci", P, house(breaker(areas=("kitchen",), protection="dual"))),
    ("afci", F, house(breaker(areas=("garage", "bedroom"), protection="gfci"))),
    ("afci", F, house(breaker(areas=("hallway",), protection="none"))),
    ("afci", U, house(breaker(areas=("bedroom",)))), ("afci", U, house(breaker(protection="none"))),
    ("afci", N, house(breaker(areas=("garage",), protection="none"))),
    ("afci", N, house(breaker(rating_a=30))),
    ("afci", N, house(breaker(poles=2, legs=("A", "B"), areas=("bedroom",)))),
    ("afci", N, shop(HALL)),
    ("afci", N, house(breaker(kind="feeder"))),
    # ground-fault: 210.8
    ("gfci", P, house(breaker(serves="receptacles", areas=("bathroom",), protection="gfci"))),
    ("gfci", F, house(breaker(serves="both", areas=("garage",), protection="afci"))),
    ("gfci", F, house(breaker(serves="receptacles", areas=("basement",), protection="none"))),
    ("gfci", U, house(breaker(serves="receptacles", areas=("bathroom",)))),
    ("gfci", U, house(breaker(serves="receptacles"))),
    ("gfci", U, house(breaker(areas=("bathroom",)))),
    ("gfci", U, house(breaker(serves="receptacles", areas=("kitchen",), protection="none",
     name="Kitchen, east wall"))),
    ("gfci", P, house(breaker(protection="gfci"))),
    ("gfci", N, house(breaker(serves="receptacles", areas=("bedroom",)))),
    ("gfci", N, house(breaker(serves="lights", areas=("bathroom",)))),
    ("gfci", N, house(breaker(serves="receptacles", areas=("bathroom",), rating_a=30))),
    ("gfci_equipment", P, house(breaker(name="Dishwasher", protection="gfci"))),
    ("gfci_equipment", F, house(breaker(name="Dishwasher", protection="none"))),
    ("gfci_equipment", U, house(breaker(name="Boat hoist"))), ("gfci_equipment", N, house(HALL)),
    ("gfci_crawl", P, house(breaker(serves="lights", areas=("crawl_space",), protection="gfci"))),
    ("gfci_crawl", F, house(breaker(serves="both", areas=("crawl_space",), protection="none"))),
    ("gfci_crawl", U, house(breaker(serves="lights"))), ("gfci_crawl", N, house(HALL)),
    ("gfci_crawl", N, house(breaker(serves="receptacles", areas=("crawl_space",)))),
    # fault current: 110.24, 110.9, 110.10
    ("afc1", P, shop(panel=plate(**MARKED), available_ka=20.0)), ("afc1", N, house()),
    ("afc1", F, shop(panel=plate(**MARKED), available_ka=25.0)), ("afc1", U, shop()),
    ("afc1", U, shop(panel=plate(fault_marked_ka=22.0))), ("afc1", U, shop(panel=plate(**MARKED))),
    ("afc1", N, shop(panel=SUB)),
    ("afc2_panel", P, house(panel=plate(interrupting_ka=22.0), available_ka=22.0)),
    ("afc2_panel", F, house(panel=plate(interrupting_ka=10.0), available_ka=10.1)),
    ("afc2_panel", U, house(available_ka=5.0)),
    ("afc2_panel", U, house(panel=plate(interrupting_ka=10.0))),
    ("afc2_panel", P, house(panel=plate(interrupting_ka=10.0), most_ka=9.0)),
    ("afc2_panel", U, house(panel=plate(interrupting_ka=10.0), most_ka=12.0)),
    ("afc2_breaker", P, house(breaker(interrupting_ka=10.0), available_ka=9.0)),
    ("afc2_breaker", F, house(breaker(interrupting_ka=10.0), available_ka=14.0)),
    ("afc2_breaker", U, house(HALL, available_ka=9.0)), ("afc2_breaker", N, house()),
    # sources: 705.12
    ("pv1", P, house(HALL, panel=plate(main_a=150), sources=(inverter(32.0),))),
    ("pv1", F, house(breaker(rating_a=225), sources=(inverter(40.0, position="anywhere",
     labelled=False),))),
    ("pv1", U, house(HALL, panel=plate(main_a=150), sources=(inverter(None),))),
    ("pv1", N, house(HALL)),
    ("pv2", P, house(HALL, sources=(inverter(32.0, **PAIR),))),
    ("pv2", F, house(breaker(rating_a=225), sources=(inverter(33.0, **PAIR),))),
    ("pv2", U, house(breaker(rating_a=225), sources=(inverter(32.0),))),
    ("pv2", N, house(HALL, panel=plate(main_a=150), sources=(inverter(position="anywhere"),))),
    ("pv3", P, house(breaker(rating_a=200), sources=(inverter(60.0, labelled=True),))),
    ("pv3", F, house(breaker(rating_a=225), sources=(inverter(60.0, **PAIR),))),
    ("pv3", U, house(HALL, sources=(inverter(60.0),))), ("pv3", N, house()),
    ("pv4", P, house(breaker(rating_a=225), sources=(inverter(32.0, position="centre"),))),
    ("pv4", F, house(breaker(rating_a=225), sources=(inverter(33.0, position="centre"),))),
    ("pv4", U, house(breaker(rating_a=225), sources=(inverter(None, position="centre"),))),
    ("pv4", N, house()),
    ("pv5", P, house(sources=(inverter(position="supply", breaker_a=200),))),
    ("pv5", F, house(sources=(inverter(position="supply", breaker_a=225),))),
    ("pv5", U, house(sources=(inverter(None, position="supply", breaker_a=None),))),
    ("pv5", N, house(sources=(inverter(),))),
    # terminals: 110.14(D)
    ("torq", P, house(torques=(torque(),))), ("torq", F, house(torques=(torque(44.0),))),
    ("torq", U, house()), ("torq", U, house(torques=(torque(marked=None),))),
    ("torq", U, house(torques=(torque(tool=" "),))),
]  # fmt: skip
# Rules of later editions: 230.85 (ELR-847) and 210.8(F) (trade magazines) since 2020.
LATER = [
    ("emd", P, "2020", house(service=READY)),
    ("emd", N, "2020", shop()),
    ("emd", N, "2017", house()),
    ("emd", F, "2020", house(service=READY | {"disconnect_outdoors": False})),
    ("emd", F, "2020", house(service=READY | {"disconnect_marked": False})),
    ("emd", F, "2020", house(service=READY | {"available_ka": 25.0})),
    ("emd", U, "2020", house()),
    ("emd", U, "2020", house(entrance=None)),
    ("emd", N, "2020", house(panel=SUB)),
    ("gfci_outdoor", P, "2020", house(breaker(serves="equipment", areas=("outdoors",),
     protection="gfci"))),
    ("gfci_outdoor", F, "2020", house(breaker(serves="equipment", areas=("outdoors",),
     protection="none"))),
    ("gfci_outdoor", U, "2020", house(breaker(areas=("outdoors",)))),
    ("gfci_outdoor", N, "2020", house(HALL)), ("gfci_outdoor", N, "2017", house(UNKNOWN)),
]  # fmt: skip
# What is always on record cannot be missing; what is always asked always applies.
NEVER = {
    "dir1_named": {U}, "dir1_distinct": {U}, "dir1_clear": {U}, "dir2": {U}, "dir3": {U},
    "dir4": {N}, "ocp1": {N}, "ocp1_bus": {U}, "ocp2": {N}, "ocp4_main": {U},
    "ocp4_rating": {U}, "mwbc1_origin": {F}, "afc2_panel": {N}, "torq": {N},
}  # fmt: skip


@pytest.mark.parametrize(("key", "outcome", "record"), CASES)
def test_a_rule_finds(key, outcome, record):
    finding = first(key, record)
    assert finding.outcome is outcome, finding.sentence
    assert finding.sentence.endswith(".")
    assert (outcome is U) == bool(finding.missing)


@pytest.mark.parametrize(("key", "outcome", "year", "record"), LATER)
def test_a_rule_of_a_later_edition_finds(key, outcome, year, record):
    finding = first(key, record, year)
    assert finding.outcome is outcome, finding.sentence


def test_every_rule_is_tried_with_every_outcome_it_can_have():
    tried = {(key, outcome) for key, outcome, *_ in [*CASES, *LATER]}
    wanted = {
        (rule.key, outcome)
        for rule in RULES
        for outcome in Outcome
        if outcome not in NEVER.get(rule.key, set())
    }
    assert wanted - tried == set()
    assert {
        (key, outcome) for key, outcomes in NEVER.items() for outcome in outcomes
    } & tried == set()


def test_a_finding_leads_to_where_it_is_put_right():
    assert first("afci", house(UNKNOWN)).place == ("circuit", "at 7")
    assert first("dir4", house()).place == ("panel", "main")
    assert first("req4", house()).place == ("home", "site")
    assert first("emd", house(), "2020").place == ("entrance", "site")
    assert first("pv1", house(HALL, sources=(inverter(None),))).place == ("source", "roof")
    assert first("torq", house()).place == ("readings", "main")
    assert first("ocp2", house()).place == ("load", "site")
    assert first("req1", house(KITCHEN, UNKNOWN)).place == ("circuit", "at 7")


def test_each_finding_cites_the_edition_it_is_judged_by():
    assert first("ocp1", house()).cite == "NFPA 70-2017, 408.36"
    assert first("ocp1_bus", house(HALL)).cite == "common practice, no source"
    assert "confirm against the printed code" in first("pv2", house(), "2020").confirm


def test_the_keys_name_each_rule_once():
    assert len(BY_KEY) == len(RULES)


def test_a_feeder_is_judged_where_it_arrives():
    """408.36 [V17]: by the main of the panel it feeds, or by the feeder's breaker."""
    fed = Fed(name="Shop panel", bus_a=100)
    assert first("load1", house(breaker(kind="feeder", feeds=fed))).outcome is N
    assert (
        first(
            "ocp1", house(panel=plate(bus_a=100, main_a=None, fed_from="M", feeder_a=125))
        ).outcome
        is F
    )
    assert (
        first("ocp1", house(panel=plate(bus_a=100, main_a=100, fed_from="M", feeder_a=125))).outcome
        is P
    )


SIX = {"wire_size": "6", "wire_material": "cu", "terminal_c": 60, "rating_a": 60}
DETAILS = [
    # 240.4(B) [M]: the next standard device above 55 A, but not for several receptacles
    ("ocp4_ampacity", P, house(breaker(**SIX, serves="equipment"))),
    ("ocp4_ampacity", F, house(breaker(**SIX, serves="receptacles"))),
    ("ocp4_ampacity", P, house(breaker(**SIX, serves="receptacles", poles=2))),
    ("ocp4_ampacity", F, house(breaker(**(SIX | {"rating_a": 70})))),
    ("req3", F, house(breaker(serves="both", areas=("bathroom", "laundry")))),
    ("req2", F, house(breaker(poles=2, serves="receptacles", areas=("laundry",)))),
    ("req2", U, house(breaker(serves="receptacles"))),
    ("req2", U, house(breaker(areas=("laundry",)))),
    ("dir1_distinct", N, house(breaker(name=" "), HALL)),
    ("dir1_clear", N, house(breaker(name=" "))),
    ("gfci", N, house(breaker(poles=3, serves="receptacles", areas=("garage",)))),
    ("gfci_crawl", U, house(breaker(areas=("crawl_space",), protection="none"))),
    ("mwbc1_loads", U, house(breaker("1", multiwire="A"))),
    ("pv3", F, house(breaker(rating_a=190), panel=plate(bus_a=195),
     sources=(inverter(60.0, position="anywhere", labelled=True),))),
    ("pv5", F, house(sources=(inverter(170.0, position="supply", breaker_a=None),))),
    ("pv5", P, house(sources=(inverter(None, position="supply", breaker_a=200),))),
]  # fmt: skip


@pytest.mark.parametrize(("key", "outcome", "record"), DETAILS)
def test_a_detail_decides(key, outcome, record):
    finding = first(key, record)
    assert finding.outcome is outcome, finding.sentence


def test_a_number_that_says_nothing_is_advised_against_and_does_not_fail():
    two = house(
        breaker("1", name="Outdoor receptacles"), breaker("2", name="Outdoor receptacles 2")
    )
    plain_, numbered = found("dir1_distinct", two)
    assert (plain_.outcome, plain_.advice) == (P, "")
    assert numbered.outcome is P
    assert "Only a number" in numbered.advice


def test_what_an_inverter_lacks_is_put_right_at_that_inverter():
    known = inverter(10.0, **PAIR)
    lacking = inverter(None, id="wall", name="Wall", **PAIR)
    open_one = first("pv2", house(breaker(rating_a=225), sources=(known, lacking)))
    assert open_one.place == ("source", "wall")


def test_where_the_directory_may_be_is_said_by_edition():
    drawer = house(panel=plate(directory_at="In a drawer"))
    assert "beside it" not in first("dir4", drawer).sentence
    assert "beside it" in first("dir4", drawer, "2020").sentence


def test_a_report_gives_the_findings_of_an_outcome():
    report = check(house(UNKNOWN), edition("2017"))
    for outcome in Outcome:
        assert {one.outcome for one in report.of(outcome)} <= {outcome}
        assert len(report.of(outcome)) == report.counts[outcome] > 0 or outcome is F
