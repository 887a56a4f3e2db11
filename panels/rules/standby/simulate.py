"""How do load, sun, charge and fuel go from one quarter-hour of an outage to the next?

Many outages are worked side by side, one to a lane: the stages of one outage, or the starts of a
year. Arrays are (steps, lanes), power in W, energy in Wh, fuel in its own unit. What is on is
carried whole or not at all; once it goes dark it stays dark. A generator that is needed in a
quarter-hour idles all of it. The generator does not charge the storage; the sun does, and what
does not go in is curtailed.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from panels.rules.standby.sources import Generator, Storage

Array: TypeAlias = "NDArray[np.float64]"
Flags: TypeAlias = "NDArray[np.bool_]"

STEP = 0.25  # hours
SLACK = 1e-6  # W or Wh: below any meter, above the rounding of floats
NOTHING = 1e-30
HALVINGS = 45
STORAGE, GENERATOR, SOLAR = "storage", "generator", "solar"


@dataclass(frozen=True, kw_only=True)
class Supply:
    """What carries the load, after the sun, in the order it is asked. Charge and fuel at start."""

    storage: Storage
    generator: Generator
    order: tuple[str, ...]

    @property
    def charge(self) -> float:
        return self.storage.usable * self.storage.at_start

    @property
    def fuel(self) -> float:
        return np.inf if self.generator.fuel is None else self.generator.fuel


@dataclass(frozen=True, kw_only=True)
class Trace:
    """Each step of each lane: mean W, the Wh and fuel at its end, and how much of it was carried.

    `hours` is a quarter while it is on, less in the step in which it goes dark, then 0.
    """

    hours: Array
    load: Array
    sun: Array
    curtailed: Array
    charging: Array
    storage: Array
    generator: Array
    charge: Array
    fuel: Array

    @property
    def lasts(self) -> Array:
        """Hours until it goes dark in each lane; the whole time looked at where it never does."""
        return np.asarray(self.hours.sum(axis=0))


@dataclass(frozen=True, kw_only=True)
class _Flow:
    """Mean W out of each source over a span of hours, and what nobody carries."""

    storage: Array
    generator: Array
    missing: Array


def run(
    load: Array, sun: Array, supply: Supply,
    *, charge: float | None = None, fuel: float | None = None,
) -> Trace:  # fmt: skip
    """The outage of each lane, from a full start or from the `charge` and `fuel` given.

    `load` and `sun` are (steps, lanes); one lane of sun serves all.
    """
    steps, lanes = load.shape
    wh = np.full(lanes, supply.charge if charge is None else charge)
    left = np.full(lanes, supply.fuel if fuel is None else fuel)
    on = np.ones(lanes, dtype=bool)
    rows: list[dict[str, Array]] = []
    for step in range(steps):
        sunny = np.broadcast_to(sun[step], (lanes,))
        hours = np.where(on, _carried(load[step] - sunny, wh, left, supply, on), 0.0)
        on = hours >= STEP
        row = _step(load[step], sunny, wh, left, hours, supply)
        wh, left = row["charge"], row["fuel"]
        rows.append(row)
    return Trace(
        **{each.name: np.array([row[each.name] for row in rows]) for each in fields(Trace)}
    )


def _step(
    load: Array, sun: Array, charge: Array, fuel: Array, hours: Array, supply: Supply
) -> dict[str, Array]:
    """One quarter-hour of which `hours` are carried, with the charge and fuel at its end."""
    on, storage = hours > 0, supply.storage
    flow = _flow(np.maximum(load - sun, 0.0), charge, fuel, hours, supply)
    over = np.maximum(sun - load, 0.0)
    room = _each(storage.usable - charge, hours * storage.charging)
    into = np.minimum(np.minimum(over, storage.inverter), room)
    change = into * storage.charging - flow.storage / storage.efficiency
    burnt = _rate(flow.generator, supply.generator) * hours
    return {
        "hours": hours,
        "load": np.where(on, load, 0.0),
        "sun": np.where(on, sun, 0.0),
        "curtailed": np.where(on, over - into, 0.0),
        "charging": np.where(on, into, 0.0),
        "storage": np.where(on, flow.storage, 0.0),
        "generator": np.where(on, flow.generator, 0.0),
        "charge": np.clip(charge + np.where(on, change * hours, 0.0), 0.0, storage.usable),
        "fuel": np.maximum(fuel - np.where(on, burnt, 0.0), 0.0),
    }


def _flow(net: Array, charge: Array, fuel: Array, hours: Array, supply: Supply) -> _Flow:
    """Each source in its order gives what it can of `net` over these hours.

    A source that runs out on the way counts with its mean, but cannot be relied on: what is
    missing is what the others cannot carry without it.
    """
    given = {STORAGE: np.zeros_like(net), GENERATOR: np.zeros_like(net)}
    left = missing = net
    for source in supply.order:
        if source == STORAGE:
            most = supply.storage.inverter
            wanted = np.minimum(left, most)
            lasting = _each(charge * supply.storage.efficiency, wanted * hours)
        else:
            most = supply.generator.watts
            wanted = np.minimum(left, most)
            lasting = _each(fuel, _rate(wanted, supply.generator) * hours)
        given[source] = wanted * np.minimum(lasting, 1.0)
        left = left - given[source]
        missing = missing - np.where(lasting >= 1.0, np.minimum(missing, most), 0.0)
    return _Flow(storage=given[STORAGE], generator=given[GENERATOR], missing=missing)


def _carried(net: Array, charge: Array, fuel: Array, supply: Supply, on: Flags) -> Array:
    """How much of the quarter-hour can be carried: all of it, or until charge or fuel is out.

    Lanes that are dark already are not searched.
    """

    def fits(hours: Array) -> Flags:
        flow = _flow(np.maximum(net, 0.0), charge, fuel, hours, supply)
        return np.asarray(flow.missing <= SLACK)

    whole = np.full(net.shape, STEP)
    if ((all_fit := fits(whole)) | ~on).all():
        return whole
    low, high = np.zeros_like(whole), whole
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        good = fits(middle)
        low, high = np.where(good, middle, low), np.where(good, high, middle)
    return np.where(all_fit, whole, np.where(low > STEP * 1e-9, low, 0.0))


def _rate(watts: Array, generator: Generator) -> Array:
    """Fuel an hour at this output; nothing when it stands still."""
    return np.where(watts > SLACK, generator.idle + generator.slope * watts, 0.0)


def _each(amount: Any, by: Any) -> Array:
    """`amount` over `by`; without end where `by` is next to nothing."""
    by = np.asarray(by, dtype=float)
    without_end = np.full(np.broadcast(amount, by).shape, np.inf)
    return np.asarray(np.divide(amount, by, out=without_end, where=by > NOTHING))
