"""What is left of the voltage at the load, and what would the shorter formulas have said?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.fields import Fields
from panels.rules.quantities import AMPERE, VOLT, percent, show
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.wire.conditions import celsius, limited, needed
from panels.rules.wire.fall import (
    Path,
    by_k,
    by_resistance,
    effective,
    exact,
    worst_power_factor,
)
from panels.rules.wire.lookup import impedance, resistance
from panels.rules.wire.run import Run, run_from
from panels.rules.wire.sizes import Metal, Size, metal_of, size_of
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "voltage_drop", "Voltage drop"
FOOT, OHMS = "ft", "ohm/kft"
WORST = "Power factor not stated: the worst for this conductor."


@dataclass(frozen=True, kw_only=True)
class Drop:
    """A current along a run: by the size of its conductors, or by ohms that are given."""

    current: Quantity
    run: Run
    size: Size | None = None
    metal: Metal = Metal.COPPER
    sets: int = 1
    ohms: tuple[float, float] | None = None
    solid: bool = False
    celsius: float = 75.0


def drop_from(plain: Mapping[str, Any]) -> Drop:
    """From ``current``, ``size`` and ``metal`` (or ``ohms`` and ``reactance``), ``sets``,
    ``solid``, ``conductor_temperature`` and the fields of `run_from`."""
    fields = Fields(plain=plain)
    size, ohms = fields.get("size"), _ohms(fields)
    metal = fields.need("metal", '"cu"') if ohms is None else fields.get("metal", "cu")
    drop = Drop(
        current=needed(fields, "current", unit="A", example="16 A"),
        run=run_from(fields),
        size=size_of(size, field="size") if size else None,
        metal=metal_of(metal, field="metal"),
        sets=fields.count("sets", least=1, default=1),
        ohms=ohms,
        solid=fields.yes("solid"),
        celsius=celsius(fields, "conductor_temperature", 75.0),
    )
    fields.done()
    return drop


def _ohms(fields: Fields) -> tuple[float, float] | None:
    r = limited(fields, "ohms", unit=OHMS, example="1.2 ohm/kft")
    x = limited(fields, "reactance", unit=OHMS, example="0.05 ohm/kft")
    if r is None and x is not None:
        raise fields.fault("ohms", 'is missing beside the reactance. Write e.g. "1.2 ohm/kft".')
    if r is None:
        return None
    if not r.magnitude:
        raise fields.fault("ohms", "must be above zero.")
    return float(r.magnitude), float(x.magnitude) if x is not None else 0.0


def path_of(drop: Drop, edition: Edition) -> Path:
    """The run in plain numbers, its impedance from the table unless ohms are given."""
    r, x = _impedance(drop, edition)
    return Path(
        amperes=float(drop.current.m_as(AMPERE)),
        power_factor=drop.run.power_factor or worst_power_factor(r, x),
        r=r,
        x=x,
        feet=drop.run.feet,
        sets=drop.sets,
        phases=drop.run.phases,
    )


def _impedance(drop: Drop, edition: Edition) -> tuple[float, float]:
    if drop.ohms is not None:
        return drop.ohms
    if drop.size is None:
        raise BadDescription("size", 'is missing. Write e.g. size = "10", or the ohms themselves.')
    return impedance(drop.size, drop.metal, drop.run.raceway, edition)


def drop_percent(drop: Drop, edition: Edition) -> float:
    """The complex solution as a percentage of the sending voltage, which has to be known."""
    sending = drop.run.sending
    if sending is None:
        raise BadDescription("volts", "is missing. Write e.g. 240 V.")
    return exact(path_of(drop, edition), sending)[0] / sending * 100


def answer(drop: Drop, edition: Edition) -> Result:
    """The drop by complex impedance, the shorter forms beside it, and the advice."""
    path = path_of(drop, edition)
    sections = [
        Section(title="Conductor", lines=tuple(_impedance_lines(drop, path, edition))),
        Section(title="Voltage drop", lines=tuple(drop_lines(path, drop.run, edition))),
        Section(title="Shorter forms, for comparison", lines=tuple(_short(drop, path, edition))),
    ]
    return assemble(KEY, TITLE, edition, sections, about="voltage_drop")


def _impedance_lines(drop: Drop, path: Path, edition: Edition) -> list[Line]:
    table, given = edition.wire.falling.impedance, drop.ohms is not None
    of = "As given" if given else f"{drop.size} {drop.metal.label}, {drop.run.raceway.label}"
    sources = () if given else (table,)
    ways = {1: "out and back", 3: "three phase"}[path.phases]
    sets = f", {path.sets} sets" if path.sets > 1 else ""
    return [
        line("resistance", f"{of}: resistance", Q(path.r, OHMS), *sources),
        line("reactance", f"{of}: reactance", Q(path.x, OHMS), *sources),
        line("length", f"Length one way ({ways}{sets})", Q(path.feet, FOOT)),
        line("power_factor", "Power factor, lagging", round(path.power_factor, 4),
             note="" if drop.run.power_factor else WORST),
        line("effective_impedance", "Effective impedance R cos φ + X sin φ",
             Q(effective(path)[0], OHMS), cite=f"{table.cite} note 2"),
    ]  # fmt: skip


def drop_lines(path: Path, run: Run, edition: Edition) -> list[Line]:
    """Volts and per cent, what is left at the load, and how it compares with the advice."""
    sending = run.sending
    if sending is None:
        return [
            line("drop", "Voltage drop", Q(effective(path)[1], VOLT), total=True,
                 how="I × Ze × L; without the sending voltage no exact solution"),
        ]  # fmt: skip
    volts, left = exact(path, sending)
    share, of = volts / sending, show(Q(sending, VOLT))
    advice = edition.wire.falling
    branch, total = advice.branch_percent, advice.total_percent
    said = "within" if share * 100 <= branch.value + 1e-9 else "above"
    return [
        line("drop", "Voltage drop, complex solution", Q(volts, VOLT), total=True),
        line("drop_percent", f"Voltage drop, % of {of}", round(share * 100, 6), total=True,
             how=f"{show(Q(volts, VOLT))} ÷ {of} = {percent(share)}"),
        line("receiving", "Voltage at the load", Q(left, VOLT)),
        line("advice", f"Advice for a branch circuit: {branch.value:g} %", said, branch,
             note=f"Advice, not a rule; with the feeder together {total.value:g} %."),
    ]  # fmt: skip


def _short(drop: Drop, path: Path, edition: Edition) -> list[Line]:
    """Effective impedance, K form, direct-current resistance; the last two need a size."""
    falling, (ze, volts) = edition.wire.falling, effective(path)
    lines = [
        line("drop_effective", "By effective impedance", Q(volts, VOLT),
             how=f"{path.ways:.4g} × {path.amperes:g} A × {ze:.4g} Ω/kft × {path.feet:g} ft",
             cite=f"{falling.impedance.cite} note 2"),
    ]  # fmt: skip
    if drop.size is None:
        return lines
    k, mils = falling.k.value[drop.metal], drop.size.circular_mils
    lines.append(
        line("drop_k", f"K form, K = {k:g} for {drop.metal.label}",
             Q(by_k(path, k, mils), VOLT), falling.k,
             how=f"{path.ways:.4g} × {k:g} × {path.amperes:g} A × {path.feet:g} ft ÷ {mils:,} cmil"
             + (f" ÷ {path.sets}" if path.sets > 1 else ""))
    )  # fmt: skip
    return lines + _direct(drop.size, drop, path, edition)


def _direct(size: Size, drop: Drop, path: Path, edition: Edition) -> list[Line]:
    """The direct-current form; left out where Table 8 does not print such a conductor."""
    falling = edition.wire.falling
    try:
        ohms = resistance(size, drop.metal, edition, solid=drop.solid, celsius=drop.celsius)
    except NotCovered:
        return []
    kind = "solid" if drop.solid else "stranded"
    return [
        line("resistance_dc", f"Direct-current resistance, {kind}, {drop.celsius:g} °C",
             Q(ohms, OHMS), falling.resistance, falling.temperature,
             how="R2 = R1 [1 + a (T2 − 75)]"),
        line("drop_dc", "By direct-current resistance", Q(by_resistance(path, ohms), VOLT)),
    ]  # fmt: skip


QUESTION = Question(key=KEY, title=TITLE, read=drop_from, answer=answer)
