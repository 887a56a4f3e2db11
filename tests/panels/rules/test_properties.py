"""What must hold for any home: more never asks for less, order never matters, units never mix.

The tables of the code step down in places of their own: a fourth appliance brings 75 % for all
four (220.53), a fourth room heater 40 % for all (220.82(C)), a fifth dryer 85 % (Table 220.54), a
range of 3.5 kW a lower column than one of 3.4 (Table 220.55). So "more" means here a larger one of
the same, within one row of those tables, or more of what has no such step.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from contractor.units import Q, Quantity, ureg
from panels.editions import EDITIONS
from panels.rules import METHODS, calculate
from panels.rules.description import from_plain
from panels.rules.dwelling import Dwelling, Kind, Load, Service
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.layout import System
from panels.rules.working import Result

ONE_DWELLING = ("standard", "optional", "existing")
SYSTEMS = (System.SPLIT_240, System.WYE_208_2LEG)
methods = st.sampled_from(ONE_DWELLING)
editions = st.sampled_from(sorted(EDITIONS.values(), key=lambda edition: edition.key))
powers = st.integers(min_value=1, max_value=30_000).map(lambda va: Q(float(va), "VA"))
NOT_DRAWN = (Kind.RANGE, Kind.OVEN, Kind.COOKTOP, Kind.KITCHEN)  # ranges by themselves below
KINDS = [kind for kind in Kind if kind not in NOT_DRAWN]


def always(**strategies: st.SearchStrategy[Any]) -> Callable[[Callable[..., None]], Any]:
    """Try the test on many cases, however busy the machine is."""
    patient = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
    return lambda test: patient(given(**strategies)(test))


@st.composite
def loads(draw: st.DrawFn) -> Load:
    kind = draw(st.sampled_from(KINDS))
    single = kind in (Kind.APPLIANCE, Kind.MOTOR, Kind.OTHER, Kind.COOLING) and draw(st.booleans())
    return Load(
        kind=kind,
        name=kind.label,
        apparent=draw(powers),
        volts=Q(120.0 if single else 240.0, "V"),
        count=draw(st.integers(1, 5)),
        motor=draw(st.booleans()),
        locked_out=draw(st.booleans()),
        controlled_separately=draw(st.booleans()),
        continuous=draw(st.booleans()),
        new=draw(st.booleans()),
    )


@st.composite
def ranges(draw: st.DrawFn) -> Load:
    kva = draw(st.floats(min_value=8.76, max_value=27))
    return Load(
        kind=Kind.RANGE, name="Range", apparent=Q(kva * 1000, "VA"), volts=Q(240.0, "V"),
        count=draw(st.integers(1, 30)),
    )  # fmt: skip


@st.composite
def dwellings(draw: st.DrawFn) -> Dwelling:
    listed = draw(st.lists(loads(), max_size=7)) + draw(st.lists(ranges(), max_size=2))
    return Dwelling(
        floor_area=Q(float(draw(st.integers(0, 60_000))), "ft**2"),
        small_appliance_circuits=draw(st.integers(2, 6)),
        laundry_circuits=draw(st.integers(0, 3)),
        loads=tuple(listed),
        service=Service(system=draw(st.sampled_from(SYSTEMS))),
    )


def worked(method: str, dwelling: Dwelling, edition: Any) -> Result:
    """The result; homes too large for any standard rating are not looked at."""
    try:
        return calculate(method, dwelling, edition)
    except NotCovered as refusal:
        assume("largest standard rating" not in refusal.sentence)
        raise


def number(result: Result, key: str) -> float:
    value = result.value(key)
    assert isinstance(value, ureg.Quantity)
    return float(value.magnitude)


CHECKED = ("load", "current", "rating", "neutral", "neutral_current")


def never_less(before: Result, after: Result) -> None:
    for key in CHECKED:
        assert number(after, key) >= number(before, key) - 1e-6, key


@always(method=methods, edition=editions, dwelling=dwellings(), more=st.integers(1, 20_000))
def test_more_floor_never_asks_for_less(
    method: str, edition: Any, dwelling: Dwelling, more: int
) -> None:
    larger = replace(dwelling, floor_area=dwelling.floor_area + Q(float(more), "ft**2"))
    never_less(worked(method, dwelling, edition), worked(method, larger, edition))


@always(method=methods, edition=editions, dwelling=dwellings())
def test_another_circuit_never_asks_for_less(method: str, edition: Any, dwelling: Dwelling) -> None:
    for name in ("small_appliance_circuits", "laundry_circuits"):
        larger = replace(dwelling, **{name: getattr(dwelling, name) + 1})
        never_less(worked(method, dwelling, edition), worked(method, larger, edition))


@always(method=methods, edition=editions, dwelling=dwellings(), load=powers, single=st.booleans())
def test_another_load_in_full_never_asks_for_less(
    method: str, edition: Any, dwelling: Dwelling, load: Quantity, single: bool
) -> None:
    other = Load(
        kind=Kind.OTHER, name="One more", apparent=load, volts=Q(120.0 if single else 240.0, "V")
    )
    larger = replace(dwelling, loads=(*dwelling.loads, other))
    before, after = worked(method, dwelling, edition), worked(method, larger, edition)
    never_less(before, after)


@always(
    method=methods,
    edition=st.sampled_from([EDITIONS["2017"]]),
    dwelling=dwellings(),
    factor=st.floats(min_value=1, max_value=4),
    data=st.data(),
)
def test_a_larger_nameplate_never_asks_for_less(
    method: str, edition: Any, dwelling: Dwelling, factor: float, data: st.DataObject
) -> None:
    """In 2017: later editions count small appliances and idle compressors by thresholds.

    On 120/240 V: on two legs of a wye a larger load to neutral may draw less than a smaller one
    between legs, whose place it takes.
    """
    assume(dwelling.loads)
    dwelling = replace(dwelling, service=Service())
    index = data.draw(st.integers(0, len(dwelling.loads) - 1))
    load = dwelling.loads[index]
    assert load.apparent is not None
    limit = 27_000.0 if load.kind is Kind.RANGE else 1e9
    raised = replace(load, apparent=Q(min(load.one * factor, limit), "VA"))
    larger = replace(
        dwelling, loads=(*dwelling.loads[:index], raised, *dwelling.loads[index + 1 :])
    )
    never_less(worked(method, dwelling, edition), worked(method, larger, edition))


@always(method=methods, edition=editions, dwelling=dwellings(), data=st.data())
def test_the_order_of_the_loads_does_not_matter(
    method: str, edition: Any, dwelling: Dwelling, data: st.DataObject
) -> None:
    shuffled = replace(dwelling, loads=tuple(data.draw(st.permutations(dwelling.loads))))
    before, after = worked(method, dwelling, edition), worked(method, shuffled, edition)
    for key in CHECKED:
        assert number(after, key) == pytest.approx(number(before, key))


@always(method=methods, edition=editions, dwelling=dwellings())
def test_the_neutral_never_carries_more_than_the_load(
    method: str, edition: Any, dwelling: Dwelling
) -> None:
    result = worked(method, dwelling, edition)
    assert number(result, "neutral") <= number(result, "load") + 1e-6
    assert number(result, "neutral_current") <= number(result, "current") + 1e-6


@always(edition=editions, dwelling=dwellings())
def test_the_demand_never_exceeds_what_is_connected(edition: Any, dwelling: Dwelling) -> None:
    """Except for the largest motor, small dryers and the raised comparison of later editions."""
    result = worked("standard", dwelling, edition)
    connected = number(result, "lighting_connected")
    for load in dwelling.loads:
        least = {Kind.DRYER: 5000.0, Kind.VEHICLE: 7200.0}.get(load.kind, 0.0)
        connected += max(load.one, least) * load.count * 1.25
    assert number(result, "load") <= connected + 0.25 * max(
        (load.one for load in dwelling.loads), default=0
    )


@always(edition=editions, dwelling=dwellings())
def test_the_rating_is_a_standard_one_and_carries_the_current(
    edition: Any, dwelling: Dwelling
) -> None:
    result = worked("standard", dwelling, edition)
    rating = number(result, "rating")
    assert rating in edition.ratings.standard.value
    assert rating >= max(number(result, "current") - 0.5, 100)


@always(edition=editions, kva=st.floats(min_value=27.001, max_value=1000))
def test_a_range_beyond_the_table_is_always_refused(edition: Any, kva: float) -> None:
    plain = {
        "floor_area": "1500 ft2",
        "small_appliance_circuits": 2,
        "laundry_circuits": 1,
        "loads": [{"kind": "range", "nameplate": {"value": kva, "unit": "kVA"}}],
    }
    with pytest.raises(NotCovered):
        calculate("standard", from_plain(plain), edition)


WRONG = {
    "floor_area": ["kVA", "VA", "A", "ft", "m", "V", "W"],
    "nameplate": ["ft2", "m2", "ft", "kWh", "V"],
    "rating": ["V", "VA", "kW", "ft"],
}


@always(
    value=st.floats(min_value=0, max_value=1e6),
    field=st.sampled_from(sorted(WRONG)),
    data=st.data(),
)
def test_no_field_takes_a_unit_of_another_kind(
    value: float, field: str, data: st.DataObject
) -> None:
    wrong = {"value": value, "unit": data.draw(st.sampled_from(WRONG[field]))}
    load = {"kind": "appliance", "volts": 120, "nameplate": "1200 VA"}
    plain: dict[str, Any] = {
        "floor_area": "1500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1,
        "service": {}, "loads": [load],
    }  # fmt: skip
    place = {"floor_area": plain, "nameplate": load, "rating": plain["service"]}[field]
    place[field] = wrong
    with pytest.raises(BadDescription):
        from_plain(plain)


@always(kw=st.floats(min_value=0.01, max_value=100), factor=st.floats(min_value=0.05, max_value=1))
def test_real_power_never_passes_for_less_apparent_power(kw: float, factor: float) -> None:
    load = {"kind": "cooling", "nameplate": {"value": kw, "unit": "kW"}}
    plain = {
        "floor_area": "1500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1,
        "loads": [load],
    }  # fmt: skip
    with pytest.raises(BadDescription, match="real power"):
        from_plain(plain)
    described = from_plain({**plain, "loads": [{**load, "power_factor": factor}]})
    assert isinstance(described, Dwelling)
    assert described.loads[0].one == pytest.approx(kw * 1000 / factor)
    assert described.loads[0].one >= kw * 1000 - 1e-6


def test_every_method_of_one_dwelling_is_among_those_tried() -> None:
    assert {key for key, method in METHODS.items() if method.takes in (None, Dwelling)} == set(
        ONE_DWELLING
    )
