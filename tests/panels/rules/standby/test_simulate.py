"""Does energy balance, and does more of anything good never last shorter?

Storage hours are checked against the energy balance of the check values, section 4 [C]: rated
energy × depth × efficiency ÷ mean power. Pure arithmetic, no section of a code.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from panels.rules.standby.balance import energies
from panels.rules.standby.simulate import STEP, Supply, run
from panels.rules.standby.sources import Generator, Storage
from tests.panels.rules.standby import by_minutes
from tests.panels.rules.standby.outages import (
    DARK,
    constant,
    days,
    generators,
    storages,
    supplies,
)

HAIR = 1e-6  # hours
BOTH = ("storage", "generator")
more = st.floats(min_value=0, max_value=5000)


def always(**strategies: st.SearchStrategy[Any]) -> Callable[[Callable[..., None]], Any]:
    patient = settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
    return lambda test: patient(given(**strategies)(test))


def alone(storage: Storage) -> Supply:
    return Supply(storage=storage, generator=Generator(), order=("storage",))


@pytest.mark.parametrize(
    ("storage", "watts", "hours"),
    [
        (Storage(usable=13_500 * 0.9, inverter=5000, efficiency=0.95, round_trip=0.9), 1200, 9.62),
        (Storage(usable=10_000 * 0.9, inverter=5000), 1000, 9.0),
    ],
)
def test_a_constant_load_lasts_as_long_as_the_energy_balance_says(
    storage: Storage, watts: float, hours: float
) -> None:
    found = run(constant(watts), DARK, alone(storage)).lasts[0]
    assert found == pytest.approx(hours, abs=0.005)
    assert found == pytest.approx(storage.usable * storage.efficiency / watts, abs=1e-6)


def test_a_load_above_the_inverter_is_not_carried_at_all() -> None:
    supply = alone(Storage(usable=10_000, inverter=1000))
    assert run(constant(1001), DARK, supply).lasts[0] == 0
    assert run(constant(1000), DARK, supply).lasts[0] == pytest.approx(10)


def test_a_generator_burns_by_the_line_through_half_and_full_load() -> None:
    """1.0 an hour at half load, 1.5 at full: 0.5 idling; 12 on hand last 12 h or 8 h."""
    engine = Generator(rating=10_000, power_factor=1, full_per_h=1.5, half_per_h=1.0, fuel=12)
    supply = Supply(storage=Storage(), generator=engine, order=("generator",))
    assert run(constant(5000), DARK, supply).lasts[0] == pytest.approx(12, abs=1e-5)
    assert run(constant(10_000), DARK, supply).lasts[0] == pytest.approx(8, abs=1e-5)
    assert run(constant(2500), DARK, supply).lasts[0] == pytest.approx(12 / 0.75, abs=1e-5)


def test_the_sun_charges_what_the_load_leaves_and_the_rest_is_curtailed() -> None:
    supply = alone(Storage(usable=1000, inverter=5000, round_trip=0.8, at_start=0))
    trace = run(constant(500, hours=2), np.full((8, 1), 1500.0), supply)
    assert trace.charge[:, 0] == pytest.approx([200, 400, 600, 800, 1000, 1000, 1000, 1000])
    assert trace.curtailed[:5, 0] == pytest.approx(0)
    assert trace.curtailed[5:, 0] == pytest.approx(1000)


@always(load=days, sun=days, supply=supplies())
def test_energy_balances_in_every_step(load: Any, sun: Any, supply: Supply) -> None:
    trace, storage = run(load, sun, supply), supply.storage
    flow = energies(trace, supply.charge, storage.charging, storage.efficiency)
    into = flow["sun"] + flow["generator"]
    out = flow["load"] + flow["curtailed"] + flow["lost"] + flow["change"]
    assert into == pytest.approx(out, abs=0.001)
    at_the_wires = flow["storage"] - flow["charging"]
    assert into + at_the_wires == pytest.approx(flow["load"] + flow["curtailed"], abs=0.001)


@always(load=days, sun=days, supply=supplies())
def test_nothing_leaves_its_bounds(load: Any, sun: Any, supply: Supply) -> None:
    trace = run(load, sun, supply)
    assert (trace.charge >= 0).all()
    assert (trace.charge <= supply.storage.usable).all()
    for power, most in (
        (trace.storage, supply.storage.inverter),
        (trace.charging, supply.storage.inverter),
        (trace.generator, supply.generator.watts),
        (trace.curtailed, trace.sun),
        (trace.hours, STEP),
    ):
        assert (power >= 0).all()
        assert (power <= most + HAIR).all()
    assert (trace.fuel >= 0).all()
    assert (trace.fuel[1:] <= trace.fuel[:-1]).all()
    assert (trace.hours[1:] <= trace.hours[:-1]).all()


@always(load=days, sun=days, supply=supplies(), more=more)
def test_more_storage_never_lasts_shorter(load: Any, sun: Any, supply: Supply, more: float) -> None:
    if not supply.storage.usable:
        return
    larger = replace(supply.storage, usable=supply.storage.usable + more)
    lasts = run(load, sun, supply).lasts[0]
    assert run(load, sun, replace(supply, storage=larger)).lasts[0] >= lasts - HAIR


@always(load=days, sun=days, supply=supplies(), part=st.floats(min_value=0, max_value=1))
def test_less_load_never_lasts_shorter(load: Any, sun: Any, supply: Supply, part: float) -> None:
    less = load.copy()
    less[::2] *= part
    less[1::3] *= part
    assert run(less, sun, supply).lasts[0] >= run(load, sun, supply).lasts[0] - HAIR


@always(load=days, sun=days, supply=supplies(), more=more)
def test_more_sun_never_lasts_shorter(load: Any, sun: Any, supply: Supply, more: float) -> None:
    assert run(load, sun + more, supply).lasts[0] >= run(load, sun, supply).lasts[0] - HAIR


@always(load=days, sun=days, storage=storages(), engine=generators(), more=more)
def test_more_fuel_never_lasts_shorter(
    load: Any, sun: Any, storage: Storage, engine: Generator, more: float
) -> None:
    supply = Supply(storage=storage, generator=engine, order=("generator", "storage"))
    fuller = replace(engine, fuel=None if engine.fuel is None else engine.fuel + more)
    lasts = run(load, sun, supply).lasts[0]
    assert run(load, sun, replace(supply, generator=fuller)).lasts[0] >= lasts - HAIR


@always(load=days, sun=days, supply=supplies())
def test_lanes_do_not_know_of_each_other(load: Any, sun: Any, supply: Supply) -> None:
    side_by_side = run(np.hstack([load, load / 2, load]), sun, supply).lasts
    one_by_one = [run(each, sun, supply).lasts[0] for each in (load, load / 2, load)]
    assert list(side_by_side) == one_by_one


@always(load=days, sun=days, storage=storages())
def test_storage_lasts_as_long_by_minutes_within_one(load: Any, sun: Any, storage: Storage) -> None:
    supply = alone(storage)
    second = by_minutes.lasts(list(load[:, 0]), list(sun[:, 0]), supply)
    assert run(load, sun, supply).lasts[0] == pytest.approx(second, abs=1 / 60 + HAIR)


@always(watts=st.floats(min_value=100, max_value=9000), supply=supplies())
def test_any_supply_lasts_as_long_by_minutes_under_a_constant_load(
    watts: float, supply: Supply
) -> None:
    """The engine idles whole quarter-hours here, minutes there: a quarter either way."""
    load = constant(watts, hours=48)
    second = by_minutes.lasts(list(load[:, 0]), [0.0] * len(load), supply)
    assert run(load, DARK, supply).lasts[0] == pytest.approx(second, abs=STEP + HAIR)


def test_a_generator_too_small_to_go_on_alone_ends_when_the_storage_does() -> None:
    storage = Storage(usable=1000, inverter=5000)
    supply = Supply(storage=storage, generator=Generator(rating=1000, power_factor=1), order=BOTH)
    assert run(constant(3000), DARK, supply).lasts[0] == pytest.approx(1 / 3)
    assert run(constant(1000), DARK, supply).lasts[0] == 24
