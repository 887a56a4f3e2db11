"""Where did the energy of an outage come from and go to, in all and hour by hour?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from panels.rules.quantities import percent
from panels.rules.standby.loads import QUARTERS
from panels.rules.standby.outage import Outage
from panels.rules.standby.shown import kwh
from panels.rules.standby.simulate import Array, Trace
from panels.rules.working import Line, Section, line

SOURCES = ("sun", "storage", "generator")
SPANS = ((24, 1), (72, 3), (168, 6))  # a time looked at up to the first: a line for so many hours


def energies(trace: Trace, start: float, charging: float, efficiency: float) -> dict[str, Array]:
    """Wh of each step and lane: what came in, what went out, what was lost, the change of charge.

    Balanced where ``sun + generator = load + curtailed + lost + change``.
    """
    before = np.vstack([np.full((1, trace.charge.shape[1]), start), trace.charge[:-1]])
    flow = {
        name: getattr(trace, name) * trace.hours
        for name in ("sun", "generator", "load", "curtailed", "storage", "charging")
    }
    lost = flow["charging"] * (1 - charging) + flow["storage"] * (1 / efficiency - 1)
    return {**flow, "lost": lost, "change": trace.charge - before}


def of_plan(outage: Outage) -> dict[str, Array]:
    """The energies of the plan, its one lane."""
    storage = outage.supply.storage
    found = energies(outage.plan.trace, outage.supply.charge, storage.charging, storage.efficiency)
    return {name: column[:, 0] for name, column in found.items()}


def balance_section(outage: Outage) -> Section:
    """In, out, lost and left over the whole outage as chosen."""
    return Section(title="Where the energy goes, as chosen", lines=tuple(_totals(outage)))


def _totals(outage: Outage) -> Iterator[Line]:
    sums = {name: float(column.sum()) for name, column in of_plan(outage).items()}
    for key, label in (
        ("sun", "From the sun"),
        ("generator", "From the generator"),
        ("storage", "Out of the storage"),
        ("charging", "Into the storage"),
        ("curtailed", "Sun left unused"),
        ("lost", "Lost in the storage"),
    ):
        if sums[key]:
            yield line(f"energy_{key}", label, kwh(sums[key]))
    yield line("energy_load", "Carried to the loads", kwh(sums["load"]))
    yield line("energy_change", "Change of the charge", kwh(sums["change"]))
    off = (
        sums["sun"]
        + sums["generator"]
        - sum(sums[name] for name in ("load", "curtailed", "lost", "change"))
    )
    how = "sun + generator − loads − unused − lost − change"
    yield line("energy_off", "Balance", kwh(round(off, 3) + 0.0), how=how)
    generator = outage.supply.generator
    if generator.rating and generator.fuel is not None:
        left = float(outage.plan.trace.fuel[-1, 0])
        what = f"Fuel used, {generator.fuel_unit}".rstrip(", ")
        yield line("fuel_used", what, round(generator.fuel - left, 6), how=f"{left:,.2f} left")


@dataclass(frozen=True, kw_only=True)
class Hour:
    """Wh carried in one hour and where they came from; the charge at its end, as a part."""

    begins: dt.datetime
    load: float
    sun: float
    storage: float
    generator: float
    charge: float | None
    stage: int


def hourly(outage: Outage) -> list[Hour]:
    """The plan hour by hour until it goes dark."""
    flows, plan = of_plan(outage), outage.plan
    usable, found = outage.supply.storage.usable, []
    for hour in range(outage.hours):
        span = slice(hour * QUARTERS, (hour + 1) * QUARTERS)
        if not plan.trace.hours[span].any():
            break
        sums = {name: float(flows[name][span].sum()) for name in ("load", *SOURCES)}
        left = float(plan.trace.charge[span][-1, 0]) / usable if usable else None
        begins = outage.start + dt.timedelta(hours=hour)
        found.append(Hour(begins=begins, charge=left, stage=plan.stage[span][-1], **sums))
    return found


def hours_section(outage: Outage) -> Section:
    """A line an hour, or for every few hours of a long time, until it goes dark."""
    each = next(span for longest, span in SPANS if outage.hours <= longest)
    title = "Hour by hour, as chosen" if each == 1 else f"Every {each} hours, as chosen"
    return Section(title=title, lines=tuple(_lines(outage, each)))


def _lines(outage: Outage, each: int) -> Iterator[Line]:
    hours = hourly(outage)
    for number in range(0, len(hours), each):
        span = hours[number : number + each]
        sums = {name: sum(getattr(hour, name) for hour in span) for name in ("load", *SOURCES)}
        said = [f"{name} {sums[name] / 1000:,.2f}" for name in SOURCES if sums[name]]
        if span[-1].charge is not None:
            said.append(f"charge {percent(span[-1].charge)}")
        label = f"{span[0].begins:%Y-%m-%d %H:%M}"
        yield line(f"hour_{number:03}", label, kwh(sums["load"]), how=", ".join(said))
