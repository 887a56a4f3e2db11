"""The check as a whole: what differs by edition, and what never changes however much is known.

Sources beside each case; marks as in the values: [V17] read in NFPA 70-2017, [V] read in the
source named, [2nd] a summary.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import fields, replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from panels.editions import EDITIONS, edition
from panels.rules.adoption import Amendment, amended
from panels.rules.check.checker import RULES, check
from panels.rules.check.facts import Breaker, Draw, Dwelling, Entrance, Record
from panels.rules.check.outcome import Outcome
from panels.rules.check.values import InForce
from panels.rules.rooms import Room
from panels.rules.sourced import Sourced
from tests.panels.rules.check.records import (
    breaker,
    draw,
    first,
    house,
    inverter,
    plate,
    torque,
)

P, F, N, U = Outcome.PASS, Outcome.FAIL, Outcome.NOT_APPLICABLE, Outcome.CANNOT_TELL
YEARS = ("2017", "2020", "2023", "2026")


def outcomes(key: str, record: Record) -> list[Outcome]:
    return [first(key, record, year).outcome for year in YEARS]


def outlet(room: str, **said: Any) -> Record:
    known = {"serves": "receptacles", "areas": (room,), "protection": "none"}
    return house(breaker(**(known | said)))


def test_arc_fault_protection_of_10_ampere_circuits_since_2023():
    """210.12(A) 2017 [V17]: 15 and 20 A; 210.12(B) 2023 [V, ELR-1429]: 10 A too."""
    assert outcomes("afci", outlet("bedroom", rating_a=10)) == [N, N, F, F]
    assert outcomes("afci", outlet("bedroom", rating_a=15)) == [F, F, F, F]
    assert "210.12(A)" in first("afci", outlet("bedroom"), "2020").cite
    assert "210.12(B)" in first("afci", outlet("bedroom"), "2023").cite


def test_10_amperes_are_a_rating_where_an_edition_names_them():
    """240.6(A) [V17] begins at 15 A."""
    assert outcomes("ocp4_rating", house(breaker(rating_a=10))) == [F, F, P, P]


def test_outdoor_outlets_up_to_50_then_60_amperes():
    """210.8(F): none 2017 [V17]; 50 A 2020 and 2023 [V]; 60 A 2026 [V, ELR-1852]."""
    known = {"serves": "equipment", "areas": ("outdoors",), "protection": "none", "poles": 2}
    for amps, wanted in ((50, [N, F, F, F]), (60, [N, N, N, F]), (70, [N, N, N, N])):
        assert outcomes("gfci_outdoor", house(breaker(rating_a=amps, **known))) == wanted


def test_outdoor_outlets_reach_the_garage_since_2023():
    known = {"serves": "equipment", "areas": ("garage",), "protection": "none"}
    assert outcomes("gfci_outdoor", house(breaker(**known))) == [N, N, F, F]


def test_outdoor_cooling_counts_from_the_day_its_exception_ends():
    """The exception for heating and cooling ended on September 1, 2026 [V for 2023]."""
    unit = breaker(
        serves="equipment", areas=("outdoors",), protection="none", poles=2,
        draws=(draw(kind="cooling"),),
    )  # fmt: skip
    for day, wanted in ((dt.date(2026, 8, 31), N), (dt.date(2026, 9, 1), F)):
        assert first("gfci_outdoor", replace(house(unit), on=day), "2023").outcome is wanted


def test_receptacles_of_any_rating_up_to_250_volts_since_2020():
    """210.8(A): 125 V, 15 and 20 A 2017 [V17]; 125 to 250 V, any rating 2020 [V]."""
    assert outcomes("gfci", outlet("laundry", poles=2, rating_a=30)) == [N, F, F, F]
    assert outcomes("gfci", outlet("garage", poles=2, rating_a=50)) == [N, F, F, F]
    assert outcomes("gfci", outlet("garage", rating_a=20)) == [F, F, F, F]


def test_basements_kitchens_by_edition():
    """Unfinished basements 2017, all since 2020; the kitchen counter until 2020, all since 2023."""
    assert outcomes("gfci", outlet("basement_finished")) == [N, F, F, F]
    assert outcomes("gfci", outlet("basement")) == [F, F, F, F]
    assert outcomes("gfci", outlet("kitchen", name="Kitchen, east wall")) == [U, U, F, F]
    assert outcomes("gfci", outlet("kitchen", name="Kitchen counter")) == [F, F, F, F]


def test_the_emergency_disconnect_moves_from_article_to_article():
    """None 2017; 230.85 2020 [V, ELR-847]; 230.70(A)(1) 2026 [V, ELR-1878]."""
    bare = house(service={"disconnect_outdoors": False})
    assert outcomes("emd", bare) == [N, F, F, F]
    cites = [first("emd", bare, year).cite for year in YEARS]
    assert cites[1:] == [
        "NFPA 70-2020, 230.85", "NFPA 70-2023, 230.85", "NFPA 70-2026, 230.70(A)(1)",
    ]  # fmt: skip


def test_the_directory_may_be_beside_the_panel_since_2020():
    beside = house(panel=plate(directory_at="Adjacent to the panel, framed"))
    assert outcomes("dir4", beside) == [F, P, P, P]


def test_sections_that_moved_say_that_their_number_is_from_memory():
    found = first("pv5", house(), "2020")
    assert "705.11" in found.cite
    assert "from memory" in found.confirm


def test_a_rule_carried_on_says_that_its_later_text_was_not_read():
    assert "was not read" in first("ocp1", house(), "2026").note
    assert first("ocp1", house(), "2017").note == ""


def test_an_amendment_takes_a_rule_out_and_says_so():
    """A local change of a check is data, like every other value of an edition."""
    local = Amendment(field="checks.in_force.afci", value=False, source="Ordinance 12-2026")
    report = check(outlet("bedroom"), amended(edition("2017"), [local]))
    (found,) = [one for one in report.findings if one.key == "afci"]
    assert found.outcome is N
    assert report.amendments == ("checks.in_force.afci = false (Ordinance 12-2026)",)


def test_every_rule_has_its_section_in_every_edition():
    assert {rule.key for rule in RULES} == {field.name for field in fields(InForce)}
    for book in EDITIONS.values():
        for rule in RULES:
            section = rule.section(book)
            assert isinstance(section, Sourced)
            assert section.cite


def test_the_cautions_say_that_old_work_is_judged_by_its_own_code():
    said = " ".join(check(house(), edition("2023")).cautions)
    assert "judged by the code it was built under" in said
    assert "authority" in said


# ---- what holds of every record

rooms = st.lists(
    st.sampled_from([one.value for one in Room]), min_size=1, max_size=3, unique=True
).map(tuple)
names = st.sampled_from(
    ["", "Kitchen counter", "Bedroom", "Dishwasher", "Misc", "Joe's den", "Range"]
)
draws = st.lists(
    st.builds(
        Draw, name=st.just("Load"), kind=st.sampled_from(["other", "cooling", "range"]),
        va=st.sampled_from([None, 1200.0, 5000.0]), volts=st.sampled_from([120.0, 240.0]),
        continuous=st.booleans(),
    ),
    min_size=1,
    max_size=2,
).map(tuple)  # fmt: skip
known: dict[str, st.SearchStrategy[Any]] = {
    "protection": st.sampled_from(["none", "gfci", "afci", "dual"]),
    "serves": st.sampled_from(["receptacles", "lights", "both", "equipment"]),
    "areas": rooms,
    "wire_size": st.sampled_from(["14", "12", "6", "4/0"]),
    "wire_material": st.sampled_from(["cu", "al"]),
    "terminal_c": st.sampled_from([60, 75]),
    "length_ft": st.floats(1, 300),
    "tied": st.booleans(),
    "grouped": st.booleans(),
    "interrupting_ka": st.sampled_from([10.0, 22.0]),
    "draws": draws,
}
told_of_the_home = {"bathrooms": st.integers(1, 4), "has_garage": st.booleans()}
told_of_the_service = {
    "occupancy": st.sampled_from(["one_family", "two_family", "apartments", "other"]),
    "available_ka": st.floats(1, 60), "disconnect_outdoors": st.booleans(),
    "disconnect_marked": st.booleans(), "disconnect_ka": st.floats(5, 65),
}  # fmt: skip
told_of_the_panel = {
    "interrupting_ka": st.floats(5, 65), "directory_at": st.sampled_from(["Door", "Drawer"]),
    "supply_marked": st.booleans(), "fault_marked_ka": st.floats(5, 65),
    "fault_marked_on": st.just(dt.date(2025, 5, 5)),
}  # fmt: skip
told_of_a_source = {
    "rated_a": st.floats(1, 80), "labelled": st.booleans(),
    "position": st.sampled_from(["opposite", "anywhere", "centre"]),
}  # fmt: skip


@st.composite
def breakers(draw_: st.DrawFn) -> tuple[Breaker, ...]:
    """Breakers as first recorded: where they sit and what they are, nothing more."""
    found = []
    for place in range(1, draw_(st.integers(0, 5)) + 1):
        poles = draw_(st.integers(1, 2))
        found.append(
            breaker(
                str(place), poles=poles, legs=("A", "B")[:poles], name=draw_(names),
                kind=draw_(st.sampled_from(["branch", "branch", "feeder", "source", "spare"])),
                rating_a=draw_(st.sampled_from([10, 15, 20, 30, 50, 100])),
                multiwire=draw_(st.sampled_from(["", "", "A"])),
                tap_rule=draw_(st.sampled_from(["", "10ft"])),
            )
        )  # fmt: skip
    return tuple(found)


def learn(draw_: st.DrawFn, thing: Any, choices: dict[str, st.SearchStrategy[Any]]) -> Any:
    """`thing` with some of what is not recorded of it told."""
    if not choices:
        return thing
    names_ = draw_(st.sets(st.sampled_from(sorted(choices))))
    blank = [name for name in sorted(names_) if getattr(thing, name) in (None, "", ())]
    return replace(thing, **{name: draw_(choices[name]) for name in blank})


@st.composite
def learning(draw_: st.DrawFn) -> tuple[Record, Record]:
    """A record, and the same with more on record."""
    sources = (inverter(None),) if draw_(st.booleans()) else ()
    before = house(
        *draw_(breakers()), sources=sources,
        home=draw_(st.sampled_from([None, {}])), service={"occupancy": ""},
    )  # fmt: skip
    torques = (torque(),) if draw_(st.booleans()) else ()
    home = before.home or (Dwelling() if draw_(st.booleans()) else None)
    after = replace(
        before,
        panel=learn(draw_, before.panel, told_of_the_panel),
        breakers=tuple(learn(draw_, one, known) for one in before.breakers),
        sources=tuple(learn(draw_, one, told_of_a_source) for one in before.sources),
        home=learn(draw_, home, told_of_the_home) if home else None,
        entrance=learn(draw_, before.entrance or Entrance(), told_of_the_service),
        torques=torques,
        calculated_a=draw_(st.one_of(st.none(), st.floats(1, 300))),
        available_ka=draw_(st.one_of(st.none(), st.floats(1, 60))),
    )
    return before, after


def judged(record: Record, year: str) -> dict[tuple[str, str], Outcome]:
    found = check(record, edition(year)).findings
    by_thing = {(one.key, one.subject): one.outcome for one in found}
    assert len(by_thing) == len(found), "one thing is judged twice by one rule"
    return by_thing


@settings(max_examples=60, deadline=None)
@given(pair=learning(), year=st.sampled_from(YEARS))
def test_learning_more_never_makes_a_finding_disappear(pair, year):
    before, after = pair
    assert judged(before, year).keys() == judged(after, year).keys()


@settings(max_examples=60, deadline=None)
@given(pair=learning(), year=st.sampled_from(YEARS), data=st.data())
def test_the_order_of_breakers_and_sources_changes_nothing(pair, year, data):
    record = pair[1]
    mixed = replace(record, breakers=tuple(data.draw(st.permutations(record.breakers))))
    assert check(mixed, edition(year)) == check(record, edition(year))


@settings(max_examples=40, deadline=None)
@given(pair=learning(), year=st.sampled_from(YEARS))
def test_every_finding_says_why_by_which_section_and_where_to_go(pair, year):
    report = check(pair[1], edition(year))
    for one in report.findings:
        assert one.sentence
        assert one.cite
        assert one.place.id
        assert (one.outcome is U) == bool(one.missing)
    assert sum(report.counts.values()) == len(report.findings)


@settings(max_examples=60, deadline=None)
@given(pair=learning(), year=st.sampled_from(YEARS), data=st.data())
def test_an_outcome_that_is_certain_stays_when_something_else_is_learnt(pair, year, data):
    """What failed or passed of a breaker's protection does not depend on its length or ratings."""
    record = pair[1]
    other = {"length_ft": 12.0, "interrupting_ka": 10.0}
    changed = replace(record, breakers=tuple(replace(one, **other) for one in record.breakers))
    before, after = judged(record, year), judged(changed, year)
    for key in ("afci", "gfci", "gfci_outdoor", "dir1_clear", "dir2", "load1", "ocp4_small"):
        for (rule, subject), outcome in before.items():
            if rule == key:
                assert after[rule, subject] is outcome
