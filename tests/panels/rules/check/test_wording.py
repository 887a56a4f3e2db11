"""Names on a directory. What is asked: NFPA 70-2017, 408.4(A) [V17]; the words by which it is
judged: common practice, no source."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.rules.check import wording
from panels.rules.names import COMMON

CLEAR = [
    "Kitchen counter receptacles, left of sink", "Master bath receptacles",
    "Northeast bedroom lights",
    "Dishwasher", "Range", "A/C condenser", "AC", "RTU 3", "Air handler with heat strips",
    "Sump pump",
    "Lights, upstairs hall", "Garage door opener", "Well pump", "Water heater", "Smoke alarms",
    "Unit 4 panel", "Apartment 12", "Freezer in garage", "Doorbell transformer", "Hot tub",
    "Vehicle supply equipment", "Storage battery", "Outlets along the north wall",
    "Sign, Main Street",
    "Receptacles 2nd floor hall", "Walk-in cooler", "Elevator", "Fire alarm panel", "Gas furnace",
    "Bath fan", "Whole-house fan", "Pool pump", "Barn lights", "Pump house", "Microwave",
]  # fmt: skip
VAGUE = [
    "Lights", "lights", "LIGHTS 2", "Plugs", "plugs 3", "Outlets", "Receptacles", "Misc", "misc.",
    "Stuff", "General", "General lighting", "Other", "Various", "House lights", "Room", "Circuit 5",
    "ckt 12", "Breaker", "20A", "20 A circuit", "15", "???", "-", "n/a", "NA", "TBD", "Unknown",
    "See notes", "Some plugs", "Old wiring", "Power", "Lights and plugs", "Plugs & lights",
    "Load 3",
    "Not sure", "x", "Test", "Extra outlets", "Room lights", "Light switch",
]  # fmt: skip
BARE = [
    "Bedroom", "bedroom", "Bedroom 2", "Kitchen", "Master bath", "Bath", "Garage", "Living room",
    "Upstairs", "Basement", "Hall", "Dining room", "Front porch", "Den", "BR 3", "Bdrm", "Attic",
    "Second floor", "Office", "Laundry room",
]  # fmt: skip
OCCUPANT = [
    "Bobbie's room", "Bobbie’s room", "Mary's office", "MARY'S OFFICE", "Bobbies room",
    "Mary office",
    "Tyler bedroom", "Grandma's lights", "Kids room", "Kid's room", "Boys bedroom",
    "The twins' room",
    "Mom and dad bedroom", "Dad's shop", "Tenant", "Tenant's heat", "Owner bedroom", "My office",
    "Smiths' unit", "Henderson's barn", "Mark's office", "Rose's room", "Will's desk", "Baby room",
    "Mr. Oakes", "Roommate", "Landlord's panel", "Pat's studio receptacles", "Her closet lights",
    "Uncle's workshop", "Room of Jessica", "Office (Kevin)", "Daughter's room lights",
]  # fmt: skip
LASTING = [
    "St. Mary's chapel lights", "Saint Paul's hall", "St Joseph school office", "Men's room fan",
    "Women's restroom lights", "Ladies' room", "Employees' lounge", "Manager's office receptacles",
    "Butler's pantry", "Driver's room", "Master bedroom lights", "Guest room receptacles",
    "Rose garden lights", "Bill board", "Jack pump", "Will-call desk", "Mark-out table", "Art room",
    "Grace Street sign", "Frank lane gate", "Ray room", "Nursery lights", "Pump 4", "Motor room",
    "Server rack", "Bay 4 lift",
    "6' baseboard heat", "O'Brien Street sign", "Hood", "Sunroom heat",
    "Owl barn", "Kidney dialysis receptacle", "Sonic cleaner",
    "Momentary switch panel", "Boyd Street gate", "Dadant hive heater",
]  # fmt: skip


@pytest.mark.parametrize("name", CLEAR)
def test_a_clear_name_is_left_alone(name):
    assert not wording.is_vague(name)
    assert not wording.is_unused(name)
    assert wording.occupant(name) is None
    assert not wording.is_bare_room(name)


@pytest.mark.parametrize("name", VAGUE)
def test_a_vague_name_is_found(name):
    assert wording.is_vague(name)


@pytest.mark.parametrize("name", BARE)
def test_a_room_alone_is_flagged_and_not_vague(name):
    assert wording.is_bare_room(name)
    assert not wording.is_vague(name)


@pytest.mark.parametrize("name", OCCUPANT)
def test_a_name_tied_to_an_occupant_is_found(name):
    assert wording.occupant(name)


@pytest.mark.parametrize("name", LASTING)
def test_a_name_that_outlasts_its_people_is_left_alone(name):
    assert wording.occupant(name) is None


@pytest.mark.parametrize("name", [one.name for one in COMMON])
def test_every_name_offered_while_recording_passes(name):
    """What the recorder offers may not be found wanting here."""
    assert not wording.is_vague(name)
    assert not wording.is_bare_room(name)
    assert not wording.is_unused(name)
    assert wording.occupant(name) is None


@pytest.mark.parametrize(
    "name",
    ["Spare", "spare 2", "SPARE", "Unused", "Not used", "Not in use", "Blank", "Open", "Off"],
)
def test_an_unused_breaker_by_any_name_is_a_spare(name):
    assert wording.is_unused(name)


@pytest.mark.parametrize(
    "name", ["Spare bedroom receptacles", "Open porch lights", "Off-peak heater"]
)
def test_a_used_breaker_is_no_spare(name):
    assert not wording.is_unused(name)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Bedroom", "bedroom "), ("Kitchen outlets", "Kitchen receptacles"),
        ("Kitchen plugs", "kitchen  recepts"), ("Bath lights", "Bathroom lighting"),
        ("BR lights", "Bedroom light"), ("Hall & stair lights", "Hall and stair lights"),
        ("The garage plugs", "Garage plug"), ("Fridge", "Refrigerator"), ("Bsmt lights",
         "Basement lights"),
    ],
)  # fmt: skip
def test_names_that_read_alike_are_not_distinct(one, other):
    assert wording.reads_as(one) == wording.reads_as(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("North bedroom lights", "South bedroom lights"), ("Bedroom 1 lights", "Bedroom 2 lights"),
        ("Kitchen lights", "Kitchen receptacles"), ("Bath receptacles", "Bath lights and fan"),
        ("Left of sink", "Right of sink"), ("Upper hall lights", "Lower hall lights"),
    ],
)  # fmt: skip
def test_names_that_differ_in_meaning_are_distinct(one, other):
    assert wording.reads_as(one) != wording.reads_as(other)
    assert not wording.slip(one, other)


@pytest.mark.parametrize(
    ("one", "other", "is_slip"),
    [
        ("Bedroom lights", "Bedrom lights", True), ("Dishwasher", "Dishwahser", True),
        ("Freezer", "Freezee", True), ("Dryer", "Fryer", False), ("East wall", "West wall", False),
        ("Furnace", "Furnace", False), ("Pump 12", "Pump 13", False),
        ("Kitchen lights north", "Kitchen lights south", False),
    ],
)  # fmt: skip
def test_a_slip_of_one_letter_is_noticed(one, other, is_slip):
    assert wording.slip(one, other) is is_slip
    assert wording.slip(other, one) is is_slip


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Outdoor receptacles 2", ("outdoor", "plug")), ("Pump 2", None), ("Apartment 3", None),
        ("Dryer", None), ("12", None), ("Bedroom 2", None), ("Zone 4", None),
    ],
)  # fmt: skip
def test_a_number_says_something_only_where_the_thing_carries_one(name, stem):
    assert wording.without_number(name) == stem


@given(st.text(max_size=80))
def test_no_name_is_too_odd_to_judge(name):
    wording.occupant(name)
    wording.is_bare_room(name)
    wording.is_vague(name)
    wording.is_unused(name)
    assert wording.reads_as(name) == wording.reads_as(f" {name} ")
    assert not wording.slip(name, name)
