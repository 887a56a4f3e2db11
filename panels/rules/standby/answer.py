"""How does an outage show its working: sources, stages, limits, and where the energy went?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from contractor.units import Q
from panels.rules.edition import Edition
from panels.rules.quantities import percent, show
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.standby.assumptions import OWN, PRACTICE
from panels.rules.standby.balance import balance_section, hours_section
from panels.rules.standby.description import outage_from
from panels.rules.standby.loads import Load
from panels.rules.standby.outage import Outage
from panels.rules.standby.shown import hours, kva, kw, kwh, stage_label
from panels.rules.standby.sources import Generator, Storage
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "outage", "Hours in an outage"


def answer(outage: Outage, edition: Edition) -> Result:
    """The outage at every stage of shedding, and hour by hour at the stage chosen."""
    sections = [
        Section(title="What carries it", lines=tuple(_sources(outage))),
        Section(title="How long", lines=tuple(_durations(outage))),
        Section(title="What has to be let go", lines=tuple(_shedding(outage))),
        Section(title="Running and starting", lines=tuple(_limits(outage))),
        balance_section(outage),
        hours_section(outage),
        Section(title="Beside it", lines=beside(edition)),
    ]
    return assemble(KEY, TITLE, edition, sections, topics=("standby",))


def beside(edition: Edition) -> tuple[Line, ...]:
    """What the code asks for beside a standby source of any size."""
    code = edition.standby
    return (
        line("transfer", "Transfer equipment", code.transfer.value, code.transfer),
        line("sign", "Sign at the service", code.sign.value, code.sign),
    )


def _sources(outage: Outage) -> Iterator[Line]:
    supply = outage.supply
    if supply.storage.usable:
        yield from _storage(supply.storage)
    if supply.generator.rating:
        yield from generator_lines(supply.generator)
    if outage.arrays:
        peak = Q(sum(one.peak for one in outage.arrays) / 1000, "kW")
        note = "Charges the storage once the load is carried; what is over is curtailed."
        if not supply.storage.usable:
            note = "Not counted: without storage it has no supply to follow."
        if any(one.assumed for one in outage.arrays):
            note += f" The hours of the day are those of a clear one: {OWN}."
        yield line("solar_peak", "Solar, peak", peak, note=note)
    names = {"storage": "storage", "generator": "generator"}
    yield line(
        "order", "Asked in this order",
        ", then ".join(["the sun", *(names[one] for one in supply.order)]),
        note="The generator does not charge the storage.",
    )  # fmt: skip


def _storage(unit: Storage) -> Iterator[Line]:
    yield line("usable", "Usable energy", kwh(unit.usable))
    how = f"{show(kwh(unit.usable))} × {percent(unit.at_start)} × {percent(unit.efficiency)}"
    note = f"The efficiency is {OWN}." if unit.assumed else ""
    yield line("deliverable", "Energy it can give", kwh(unit.deliverable), how=how, note=note)
    trip = f"From input to output {percent(unit.round_trip)}."
    yield line("inverter", "Inverter, without a pause", kw(unit.inverter), note=trip)


def generator_lines(unit: Generator) -> Iterator[Line]:
    """Nameplate, what height and heat take, and what is left."""
    yield line("rating", "Generator, nameplate", kva(unit.rating))
    if unit.height_loss:
        over = unit.altitude_ft - unit.rated_altitude_ft
        how = f"{show(Q(over, 'ft'))} above its rating, {unit.per_1000_ft.value:g} % each 1000 ft"
        lost = kva(unit.rating * unit.height_loss)
        yield line("height", "Less for thin air", lost, unit.per_1000_ft, how=how)
    if unit.heat_loss:
        over = unit.temperature_f - unit.rated_temperature_f
        how = f"{over:g} °F above its rating, {unit.per_10_f.value:g} % each 10 °F"
        lost = kva(unit.rating * unit.heat_loss)
        yield line("heat", "Less for warm air", lost, unit.per_10_f, how=how)
    yield line("capacity", "Generator, derated", kva(unit.apparent), total=True)
    how = f"{show(kva(unit.apparent))} × power factor {unit.power_factor:g}"
    yield line("generator_kw", "Generator, real power", kw(unit.watts), how=how)
    if unit.full_per_h is not None:
        how = f"{unit.idle:,.3g} an hour idling, {unit.slope * 1000:,.3g} for each kWh"
        what = f"Fuel at full load an hour, {unit.fuel_unit}".rstrip(", ")
        yield line("fuel_rate", what, unit.full_per_h, how=how)


def _durations(outage: Outage) -> Iterator[Line]:
    yield line(
        "lasts", f"As chosen: {stage_label(outage.shed)}", hours(outage.plan.lasts),
        how=_until(outage, outage.plan.lasts), total=True, note=_profile(outage),
    )  # fmt: skip
    for stage in outage.stages:
        lasts = outage.lasts(stage)
        yield line(
            f"lasts_{stage}", stage_label(stage).capitalize(), hours(lasts),
            how=_until(outage, lasts),
        )  # fmt: skip


def _profile(outage: Outage) -> str:
    if outage.watts is not None:
        return "The metered draw of these hours, by the stated shares of the loads."
    if all(load.habit == "even" for load in outage.loads):
        return ""
    return f"The draw of a typical day by kind of load: {OWN}."


def _until(outage: Outage, lasts: float) -> str:
    if lasts >= outage.hours - 1e-9:
        return "still on when the time looked at ends"
    return "until " + f"{outage.start + dt.timedelta(hours=lasts):%Y-%m-%d %H:%M}"


def _shedding(outage: Outage) -> Iterator[Line]:
    once = outage.at_once
    yield line(
        "shed_at_once", "To carry the first quarter-hour", _choice(once), how=_names(outage, once)
    )
    wanted = outage.to_until
    if wanted > outage.hours:
        return
    reach = outage.first_that_reaches(wanted)
    label = f"To reach {outage.until:%H:%M}"
    how = f"{show(hours(wanted))} later. {_names(outage, reach)}".strip()
    yield line("shed_to_reach", label, _choice(reach), how=how, total=True)
    if reach is None:
        best = max(map(outage.lasts, outage.stages))
        yield line("short_by", "Short by, with every stage off", hours(wanted - best))


def _choice(stage: int | None) -> str:
    return "no stage is enough" if stage is None else stage_label(stage)


def _names(outage: Outage, stage: int | None) -> str:
    gone = outage.let_go(stage) if stage else []
    return "Off: " + ", ".join(dict.fromkeys(map(_called, gone))) if gone else ""


def _called(load: Load) -> str:
    return load.circuit or load.name


def _limits(outage: Outage) -> Iterator[Line]:
    surge, power = outage.surge_limit, outage.power_limit
    yield line("power_limit", "All sources together, without a pause", kw(power))
    if surge is not None:
        yield line("surge_limit", "Surge, the weakest source alone", kva(surge))
    for stage in outage.stages:
        yield _connected(outage, stage, power)
        yield _start(outage, stage, surge)


def _connected(outage: Outage, stage: int, power: float) -> Line:
    total = outage.connected(stage)
    resting = set(outage.on_at(stage)) - set(outage.in_season(stage))
    within = total <= power
    note = "Within the limit." if within else "More than is there: not all of it at one time."
    if resting:
        note += f" Out of season: {', '.join(sorted(load.name for load in resting))}."
    label = f"All running at one time, {stage_label(stage)}"
    peak = f"highest quarter-hour {show(kw(outage.peak(stage)))}"
    return line(f"connected_{stage}", label, kw(total), how=peak, note=note)


def _start(outage: Outage, stage: int, surge: float | None) -> Line:
    total, motor = outage.starting(stage)
    label = f"Hardest start, {stage_label(stage)}"
    if motor is None:
        return line(f"start_{stage}", label, kva(total), note="No motor is recorded here.")
    how = f"{motor.name} {show(kva(motor.in_rush))} on top of the highest quarter-hour"
    note = "" if motor.starting is not None else f"Six times its running current: {PRACTICE}."
    if surge is None:
        verdict = "The surge of a source is not recorded, so it cannot be judged."
    elif total <= surge:
        verdict = "Within the surge limit."
    else:
        verdict = f"Over the surge limit by {show(kva(total - surge))}."
    return line(f"start_{stage}", label, kva(total), how=how, note=f"{verdict} {note}".strip())


OUTAGE = Question(key=KEY, title=TITLE, read=outage_from, answer=answer)
