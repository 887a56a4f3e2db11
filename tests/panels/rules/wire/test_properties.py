"""What must hold for any conductor: thicker never does worse, longer never better."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from panels.editions import EDITIONS
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.questions import answer
from panels.rules.wire.sizes import SIZES, size_of
from panels.rules.working import Result, to_plain
from tests.panels.rules.wire.asked import number

names = st.sampled_from([size.name for size in SIZES])
editions = st.sampled_from(sorted(EDITIONS))
metals = st.sampled_from(["cu", "al"])
amperes = st.integers(1, 380)
feet = st.integers(1, 600)


def always(**strategies: st.SearchStrategy[Any]) -> Callable[[Callable[..., None]], Any]:
    patient = settings(deadline=None, max_examples=60)
    return lambda test: patient(given(**strategies)(test))


def ask(key: str, by: str, plain: dict[str, Any]) -> Result:
    """The answer; what the tables do not cover is not looked at."""
    try:
        return answer(key, plain, EDITIONS[by])
    except NotCovered:
        assume(False)
        raise


surroundings = st.fixed_dictionaries(
    {
        "metal": metals,
        "insulation": st.sampled_from([60, 75, 90]),
        "terminal": st.sampled_from([60, 75]),
        "ambient": st.integers(-30, 50).map("{} C".format),
        "bundled": st.integers(1, 45),
    }
)


@always(by=editions, plain=surroundings, one=names, other=names)
def test_a_larger_conductor_never_carries_less(
    by: str, plain: dict[str, Any], one: str, other: str
) -> None:
    small, large = sorted((one, other), key=lambda name: size_of(name))
    less = ask("ampacity", by, {**plain, "size": small})
    more = ask("ampacity", by, {**plain, "size": large})
    for key in ("ampacity", "largest_device"):
        assert number(more, key) >= number(less, key)


@always(by=editions, plain=surroundings, size=names, hotter=st.integers(0, 30))
def test_heat_and_company_never_help(
    by: str, plain: dict[str, Any], size: str, hotter: int
) -> None:
    before = ask("ampacity", by, {**plain, "size": size})
    worse = {
        "ambient": f"{int(plain['ambient'].split()[0]) + hotter} C",
        "bundled": plain["bundled"] + hotter,
    }
    after = ask("ampacity", by, {**plain, **worse, "size": size})
    assert number(after, "ampacity") <= number(before, "ampacity")


runs = st.fixed_dictionaries(
    {
        "metal": metals,
        "raceway": st.sampled_from(["pvc", "al", "steel"]),
        "volts": st.sampled_from(["120 V", "208 V", "240 V"]),
        "phases": st.sampled_from([1, 3]),
        "power_factor": st.sampled_from([0.7, 0.85, 0.9]),
    }
)


@always(by=editions, plain=runs, current=amperes, length=feet, one=names, other=names)
def test_a_larger_conductor_never_drops_more(
    by: str, plain: dict[str, Any], current: int, length: int, one: str, other: str
) -> None:
    """Below unity power factor the reactance of thick conductors counts, and still they win."""
    small, large = sorted((one, other), key=lambda name: size_of(name))
    given_ = {**plain, "current": f"{current} A", "length": f"{length} ft"}
    thin = ask("voltage_drop", by, {**given_, "size": small})
    thick = ask("voltage_drop", by, {**given_, "size": large})
    for key in ("drop_effective", "drop_k"):
        assert number(thick, key) <= number(thin, key) + 1e-9


@always(
    by=editions, plain=runs, current=amperes, length=feet, more=st.integers(0, 300), size=names
)  # fmt: skip
def test_a_longer_run_never_drops_less(
    by: str, plain: dict[str, Any], current: int, length: int, more: int, size: str
) -> None:
    given_ = {**plain, "current": f"{current} A", "size": size}
    short = ask("voltage_drop", by, {**given_, "length": f"{length} ft"})
    long = ask("voltage_drop", by, {**given_, "length": f"{length + more} ft"})
    for key in ("drop", "drop_effective", "drop_k", "drop_dc"):
        assert number(long, key) >= number(short, key) - 1e-9


@always(by=editions, plain=surroundings, load=amperes, more=st.integers(0, 100), length=feet)
def test_more_load_never_asks_for_a_smaller_conductor(
    by: str, plain: dict[str, Any], load: int, more: int, length: int
) -> None:
    run = {"length": f"{length} ft", "volts": "240 V", "drop_limit": 4}
    sizes = [
        size_of(str(ask("conductor", by, {**plain, **run, "continuous": f"{amps} A"})
                    .value("conductor")).split()[0])
        for amps in (load, load + more)
    ]  # fmt: skip
    assert sizes[1] >= sizes[0]


@always(by=editions, plain=surroundings, load=amperes, data=st.data())
def test_the_order_of_what_is_said_never_matters(
    by: str, plain: dict[str, Any], load: int, data: st.DataObject
) -> None:
    whole = {**plain, "continuous": f"{load} A", "noncontinuous": "3 A"}
    order = data.draw(st.permutations(list(whole)))
    assert ask("conductor", by, whole) == ask("conductor", by, {key: whole[key] for key in order})


@always(by=editions, plain=surroundings, load=amperes)
def test_the_smallest_passes_by_itself_and_the_next_smaller_does_not(
    by: str, plain: dict[str, Any], load: int
) -> None:
    """The choice agrees with the check of one conductor alone."""
    result = ask("conductor", by, {**plain, "continuous": f"{load} A"})
    device = f"{number(result, 'device'):g} A"
    circuit = {**plain, "continuous": f"{load} A", "device": device}
    size = size_of(str(result.value("conductor")).split()[0])
    assert ask("ampacity", by, {**circuit, "size": size.name}).value("verdict") == "passes"
    smaller = [each for each in SIZES if each < size]
    if smaller:
        try:
            below = answer("ampacity", {**circuit, "size": smaller[-1].name}, EDITIONS[by])
        except NotCovered:
            return
        assert below.value("verdict") == "fails"


COMMON = ("metal", "sets", "insulation", "terminal", "ambient", "bundled", "raceway_length")
LOAD = ("device", "continuous", "noncontinuous", "receptacles")
RUN = ("length", "volts", "phases", "raceway", "power_factor")
USUAL: dict[str, dict[str, Any]] = {
    "conductor": {"metal": "cu", "device": "60 A"},
    "ampacity": {"metal": "cu", "size": "6"},
    "voltage_drop": {"metal": "cu", "size": "6", "current": "9 A", "length": "9 ft"},
    "equipment_grounding": {"metal": "cu", "device": "60 A"},
    "grounding_electrode": {"service_size": "4/0", "service_metal": "al"},
}
TAKES: dict[str, tuple[str, ...]] = {
    "conductor": (*COMMON, *LOAD, *RUN, "drop_limit", "whole_dwelling", "ground_metal"),
    "ampacity": (*COMMON, *LOAD, "size", "ground", "ground_metal"),
    "voltage_drop": (*RUN, "current", "size", "metal", "ohms", "reactance", "sets", "solid",
                     "conductor_temperature"),
    "equipment_grounding": ("device", "metal", "size", "enlarged_from"),
    "grounding_electrode": ("service_size", "service_metal", "sets", "metal"),
}  # fmt: skip
ANYTHING = st.one_of(
    st.sampled_from([
        "cu", "al", "12", "4/0", "75 C", "60 A", "1e300 A", "9" * 30 + " A", "150 ft", "-1 F",
        "9" * 38 + " F", "pvc", "240 V", "1.2 ohm/kft", "99999 ft", "0 A", "0 ft", "18 in", "",
        1, 3, 60, 75, 90, 0.5, True, 10**400,
    ]),
    st.integers(), st.floats(), st.none(), st.lists(st.integers()), st.text(max_size=50),
)  # fmt: skip


@always(question=st.sampled_from(sorted(USUAL)), data=st.data())
def test_whatever_is_written_is_answered_or_refused_in_words(
    question: str, data: st.DataObject
) -> None:
    names = st.sampled_from(TAKES[question])
    plain = {**USUAL[question], **data.draw(st.dictionaries(names, ANYTHING, max_size=4))}
    told = ""
    try:
        result = answer(question, plain, EDITIONS["2023"])
    except (BadDescription, NotCovered) as refusal:
        told = refusal.sentence
    else:
        json.dumps(to_plain(result), allow_nan=False)
    assert len(told) < 1000


@always(
    length=st.one_of(st.integers(), st.floats(), st.text(alphabet="0123456789. ", max_size=6))
)  # fmt: skip
def test_a_length_without_a_unit_is_never_taken(length: object) -> None:
    plain = {"current": "16 A", "size": "12", "metal": "cu", "length": length}
    with pytest.raises(BadDescription) as fault:
        answer("voltage_drop", plain, EDITIONS["2017"])
    assert "length" in fault.value.fields
