"""Does a fault study hold to what must be so of any site, and say what it cannot tell?"""

from __future__ import annotations

import cmath
import itertools
import math
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.fault.answer import Study, answer, read, study
from panels.rules.questions import QUESTIONS
from panels.rules.wire.sizes import SIZES
from panels.rules.working import Result, from_plain, to_plain

SYSTEMS = ("1ph-240", "1ph-208", "3ph-208", "3ph-480", "3ph-240")
TABLED = [size.name for size in SIZES]


def plain(system: str = "1ph-240", **service: Any) -> dict[str, Any]:
    """A service and a panel in it fed 60 ft on; `service` overrides what is said of it."""
    run = {"size": "4/0", "metal": "al", "raceway": "pvc", "length": "40 ft"}
    feeder = {"size": "6", "metal": "cu", "raceway": "pvc", "length": "60 ft"}
    poles = 2 if system.startswith("1ph") else 3
    return {
        "service": {
            "system": system, "available": "22 kA", "x_over_r": 4.0, "conductor": run
        } | service,
        "panels": [
            {
                "name": "Main", "rating": "200 A", "main": "200 A", "interrupting": "22 kA",
                "circuits": [
                    {"feeds": "Garage", "poles": poles, "rating": "60 A", "conductor": feeder}
                ],
            },
            {"name": "Garage", "rating": "100 A", "interrupting": "10 kA"},
        ],
    }  # fmt: skip


def worked(said: dict[str, Any], year: str = "2020") -> Study:
    return study(read(said), edition(year))


def amperes(said: dict[str, Any]) -> list[float]:
    """Every current of the study, place by place."""
    found = []
    for place in worked(said).places:
        found += [place.line_to_line, place.three_phase or 0, place.to_neutral or 0]
        found += [place.points.lines_a, place.points.to_neutral or 0]
    return found


def result(said: dict[str, Any], year: str = "2020") -> Result:
    return answer(read(said), edition(year))


def feeder_of(said: dict[str, Any]) -> dict[str, Any]:
    return said["panels"][0]["circuits"][0]["conductor"]  # type: ignore[no-any-return]


def test_a_single_phase_service_by_hand() -> None:
    """240 V over source, twice 40 ft of 4/0 aluminium: .10 + j.041 ohms per 1000 ft (Table 9)."""
    source = cmath.rect(240 / 22_000, math.atan(4))
    line = complex(0.10, 0.041) * 40 / 1000
    main = worked(plain()).places[1]
    assert main.line_to_line == pytest.approx(240 / abs(source + 2 * line))
    assert main.to_neutral == pytest.approx(120 / abs(source / 3 + 2 * line))


def test_a_figure_to_neutral_from_the_utility_is_taken_as_it_is() -> None:
    head = worked(plain(available_to_neutral="30 kA")).places[0]
    assert head.to_neutral == pytest.approx(30_000)
    assert worked(plain()).places[0].to_neutral == pytest.approx(33_000)


@pytest.mark.parametrize("system", SYSTEMS)
@given(feet=st.floats(0, 400), more=st.floats(0, 400))
@settings(max_examples=15, deadline=None)
def test_a_longer_feeder_never_has_more_fault_current(
    system: str, feet: float, more: float
) -> None:
    near, far = plain(system), plain(system)
    feeder_of(near)["length"], feeder_of(far)["length"] = f"{feet:.3f} ft", f"{feet + more:.3f} ft"
    assert all(a >= b - 1e-6 for a, b in zip(amperes(near), amperes(far), strict=True))


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("raceway", ["pvc", "al", "steel"])
def test_a_larger_conductor_never_has_less_fault_current(system: str, raceway: str) -> None:
    found = []
    for size in TABLED:
        said = plain(system)
        feeder_of(said).update(size=size, raceway=raceway)
        found.append(amperes(said)[-5:])
    for smaller, larger in itertools.pairwise(found):
        assert all(b >= a - 1e-6 for a, b in zip(smaller, larger, strict=True))


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("x_over_r", [None, 0.5, 6.0])
@given(ka=st.floats(0.5, 200), more=st.floats(0, 100))
@settings(max_examples=10, deadline=None)
def test_a_stronger_source_never_gives_less(
    system: str, x_over_r: float | None, ka: float, more: float
) -> None:
    weak = plain(system, available=f"{ka:.4f} kA", x_over_r=x_over_r)
    strong = plain(system, available=f"{ka + more:.4f} kA", x_over_r=x_over_r)
    assert all(b >= a - 1e-6 for a, b in zip(amperes(weak), amperes(strong), strict=True))


@given(x_over_r=st.floats(0.05, 50), feet=st.integers(1, 300))
@settings(max_examples=40, deadline=None)
def test_an_x_over_r_not_recorded_is_never_below_any_that_could_be(
    x_over_r: float, feet: int
) -> None:
    known, unknown = plain(x_over_r=x_over_r), plain(x_over_r=None)
    feeder_of(known)["length"] = feeder_of(unknown)["length"] = f"{feet} ft"
    assert all(u >= k - 1e-6 for u, k in zip(amperes(unknown), amperes(known), strict=True))


def test_the_order_in_which_panels_are_listed_does_not_matter() -> None:
    said = plain()
    turned = deepcopy(said)
    turned["panels"].reverse()
    assert amperes(said) == amperes(turned)


def test_what_is_not_recorded_of_a_feeder_makes_an_upper_bound() -> None:
    said = plain()
    said["panels"][1]["interrupting"] = "5 kA"
    del feeder_of(said)["length"]
    main, garage = worked(said).places[1:]
    assert garage.line_to_line == main.line_to_line
    rating = next(one for one in garage.findings if one.check == "rating")
    assert rating.state == "cannot tell"
    assert "the length of the conductors to Garage" in rating.record
    said["panels"][1]["interrupting"] = "22 kA"
    assert worked(said).places[2].findings[0].state == "pass"


def test_a_rating_below_the_fault_current_fails_and_one_not_recorded_is_asked_for() -> None:
    said = plain()
    said["panels"][0]["interrupting"] = "10 kA"
    del said["panels"][1]["interrupting"]
    main, garage = worked(said).places[1:]
    assert [(one.check, one.state) for one in main.findings] == [
        ("rating", "fail"),
        ("breakers", "cannot tell"),
    ]
    assert garage.findings[0].state == "cannot tell"
    assert garage.findings[0].record == "the short-circuit rating on its label"


def test_a_breaker_rated_too_low_is_named() -> None:
    said = plain()
    said["panels"][0]["circuits"][0]["interrupting"] = "10 kA"
    found = worked(said).places[1].findings
    assert [(one.check, one.state) for one in found] == [("rating", "pass"), ("breaker", "fail")]
    assert "Garage" in found[1].sentence


def test_other_sources_are_named_as_not_counted() -> None:
    said = plain()
    said["panels"][0]["circuits"].append(
        {"legs": "AB", "rating": "40 A", "name": "Battery", "duty": "source"}
    )
    assert "Battery" in str(result(said).value("sources"))


def test_without_a_source_nothing_is_guessed() -> None:
    done = worked(plain(available=None))
    assert done.places == ()
    assert "Ask the utility" in result(plain(available=None)).line("source").note


def test_motors_add_four_times_their_current_at_every_place() -> None:
    without, with_ = amperes(plain()), amperes(plain() | {"motors": "50 A"})
    for index in (0, 5, 10):
        assert with_[index] == pytest.approx(without[index] + 200)


def test_the_tolerance_takes_a_tenth_off_the_percent_impedance() -> None:
    bank = {"rating": "75 kVA", "percent_z": 1.4, "x_over_r": 2.0}
    said = plain(available=None, transformer=bank)
    head = worked(said).places[0].line_to_line
    assert head == pytest.approx(75_000 / 240 / 0.014)
    assert worked(said | {"tolerance": True}).places[0].line_to_line == pytest.approx(head / 0.9)


def test_a_high_leg_to_neutral_is_refused_and_the_rest_answered() -> None:
    found = result(plain("3ph-240"))
    assert found.value("main_to_neutral") == "not covered"
    assert found.value("main_three_phase").m_as("A") > 0  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("year", "occupancy", "asked"),
    [
        ("2017", "other", {"marking": True, "mark_panel": False}),
        ("2020", "other", {"marking": True, "mark_panel": True}),
        ("2023", "one_family", {"marking": False, "mark_panel": False}),
        ("2026", "other", {"marking": True, "mark_panel": True}),
    ],
)
def test_marking_is_asked_by_edition_and_occupancy(
    year: str, occupancy: str, asked: dict[str, bool]
) -> None:
    found = result(plain(occupancy=occupancy), year)
    known = {line.key: line.value for line in found.lines}
    assert (known["marking"] != "not asked") is asked["marking"]
    assert ("mark_panel" in known) is asked["mark_panel"]
    assert ("mark_panel_2" in known) is asked["mark_panel"]


def test_what_is_marked_is_the_largest_current_rounded_up() -> None:
    """13,483.2 A between the lines, less to neutral after 40 ft."""
    said = plain(occupancy="other")
    main = worked(said).places[1]
    found = result(said)
    assert found.value("marking").m_as("A") == math.ceil(main.largest)  # type: ignore[union-attr]
    assert found.line("mark_panel_2").label == "Mark at Garage"


def test_breakers_rated_too_low_are_told_together_by_their_rating() -> None:
    said = plain()
    said["panels"][0]["circuits"] += [
        {"space": space, "rating": "20 A", "interrupting": rating}
        for space, rating in ((10, "5 kA"), (12, "5 kA"), (14, "10 kA"), (16, "22 kA"))
    ]
    found = [one for one in worked(said).places[1].findings if one.check == "breaker"]
    assert [one.sentence.split(":")[0] for one in found] == ["2 breakers (10, 12)", "Breaker 14"]
    keys = [line.key for line in result(said).lines]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    ("year", "cite"), [("2017", None), ("2020", "230.85"), ("2026", "230.70(A)(1)")]
)
def test_the_outdoor_disconnect_of_a_dwelling_is_rated_where_the_edition_asks(
    year: str, cite: str | None
) -> None:
    said = plain(occupancy="one_family", disconnect_interrupting="10 kA")
    found = {line.key: line for line in result(said, year).lines}.get("service_disconnect")
    assert (found.cite if found else None) == cite
    if found:
        assert found.value == "Does not fit"


@pytest.mark.parametrize("year", sorted(EDITIONS))
def test_the_study_is_a_question_whose_answer_can_be_kept(year: str) -> None:
    asked = QUESTIONS["fault"]
    found = asked.answer(asked.read(plain()), edition(year))
    assert from_plain(to_plain(found)) == found
    assert any("arc-flash" in said for said in found.cautions)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"half_winding": "quarter"}, "half_winding"),
        ({"convention": "before"}, "convention"),
        ({"motors": "5 kVA"}, "motors"),
        ({"missing": 1}, "missing"),
        ({"service": {"available": "22"}}, "service.available"),
        ({"service": {"transformer": {"rating": "75 kVA"}}}, "service.transformer.percent_z"),
        ({"panels": []}, "panels"),
    ],
)
def test_a_fault_in_the_description_names_its_field(change: dict[str, Any], field: str) -> None:
    with pytest.raises(BadDescription) as refused:
        read(plain() | change)
    assert refused.value.field == field


def test_a_conductor_outside_the_table_is_refused() -> None:
    said = plain()
    feeder_of(said).update(size="14", metal="al")
    with pytest.raises(NotCovered, match="14 AWG aluminum"):
        worked(said)
