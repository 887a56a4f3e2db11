"""May sources in parallel with the utility be connected to this busbar, and by which way? (705.12)

What counts is the rated current of the inverter, never its breaker. The ways are alternatives:
where one holds the others are not needed; all fail only when none can hold.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from panels.rules.check import subjects
from panels.rules.check.facts import Connected, PanelPlate, Record
from panels.rules.check.outcome import (
    Outcome,
    Rule,
    Verdict,
    cannot_tell,
    does_not_apply,
    fails,
    passes,
)
from panels.rules.edition import Edition

SUPPLY, OPPOSITE, CENTRE = "supply", "opposite", "centre"
Way = Callable[["Bus"], Verdict]


@dataclass(frozen=True, kw_only=True)
class Bus:
    """The busbar with what is connected to it, A. `inverters_a` None: one is not recorded."""

    bus_a: float
    device_a: float | None
    inverters_a: float | None
    breakers_a: float
    positions: tuple[str, ...]
    labelled: bool | None
    dwelling: bool | None
    edition: Edition

    @property
    def raised(self) -> float | None:
        """Inverter current × 1.25."""
        factor = self.edition.checks.busbar.factor.value
        return None if self.inverters_a is None else self.inverters_a * factor

    @property
    def stretched(self) -> float:
        """The busbar × 1.2."""
        return self.bus_a * self.edition.checks.busbar.stretch.value

    @property
    def left_for_inverters(self) -> float | None:
        """The most inverter current under the 120 % rule, A; None without a device."""
        if self.device_a is None:
            return None
        left = self.stretched - self.device_a
        return max(left, 0.0) / self.edition.checks.busbar.factor.value


def on_bus(record: Record) -> list[Connected]:
    return [one for one in record.sources if one.position != SUPPLY]


def bus_of(record: Record, edition: Edition) -> Bus:
    found = on_bus(record)
    amps = [one.rated_a for one in found]
    labels = [one.labelled for one in found]
    known = {"": None, "other": False}
    return Bus(
        bus_a=record.panel.bus_a,
        device_a=record.protected_at,
        inverters_a=None if None in amps else sum(one for one in amps if one is not None),
        breakers_a=sum(one.rating_a for one in record.breakers),
        positions=tuple(one.position for one in found),
        labelled=False if False in labels else None if None in labels else True,
        dwelling=known.get(record.occupancy, True),
        edition=edition,
    )


def sum_within(bus: Bus) -> Verdict:
    """1.25 × inverter current + the device ≤ the busbar, wherever it is connected."""
    return _currents(bus, bus.bus_a, f"busbar {bus.bus_a:g} A")


def opposite_end(bus: Bus) -> Verdict:
    """The 120 % rule: at the opposite end of the busbar, with its label."""
    if any(position and position != OPPOSITE for position in bus.positions):
        return fails("Not connected at the end of the busbar away from the main.")
    if bus.labelled is False:
        return fails("The label that keeps the breaker from being moved is not there.")
    found = _stretched(bus)
    if found.outcome is not Outcome.PASS:
        return found
    return _missing(bus, {"its place on the busbar": all(bus.positions)}) or found


def breakers_within(bus: Bus) -> Verdict:
    """All breakers but the main ≤ the busbar, and the main ≤ the busbar, with its label."""
    told = f"All breakers but the main {bus.breakers_a:g} A, busbar {bus.bus_a:g} A."
    if bus.breakers_a > bus.bus_a:
        return fails(told)
    if bus.device_a is not None and bus.device_a > bus.bus_a:
        return fails(f"The device ahead is {bus.device_a:g} A, busbar {bus.bus_a:g} A.")
    if bus.labelled is False:
        return fails(f"{told} The label that limits its breakers is not there.")
    known = {"the device that protects the busbar": bus.device_a is not None}
    return _missing(bus, known) or passes(told)


def centre_fed(bus: Bus) -> Verdict:
    """A centre-fed panel of a dwelling: the 120 % rule, sources at one end only."""
    if any(position and position != CENTRE for position in bus.positions):
        return fails("Not at one end of a center-fed panel.")
    if bus.dwelling is False:
        return fails("Only for dwellings.")
    found = _stretched(bus)
    if found.outcome is not Outcome.PASS:
        return found
    known = {
        "its place on the busbar": all(bus.positions),
        "what the service serves": bus.dwelling is not None,
    }
    missing = [told for told, is_known in known.items() if not is_known]
    return cannot_tell(*missing) if missing else found


def _stretched(bus: Bus) -> Verdict:
    return _currents(bus, bus.stretched, f"120 % of the {bus.bus_a:g} A busbar {bus.stretched:g} A")


def _currents(bus: Bus, limit: float, told: str) -> Verdict:
    busbar = bus.edition.checks.busbar
    if bus.raised is None:
        return cannot_tell("the rated output current of its inverter")
    if bus.device_a is None:
        return cannot_tell("the device that protects the busbar")
    total = bus.raised + bus.device_a
    sums = (
        f"{busbar.factor.value:g} × inverter {bus.inverters_a:g} A + {bus.device_a:g} A = "
        f"{total:g} A; {told}."
    )
    return passes(sums, busbar.factor) if total <= limit + 1e-9 else fails(sums, busbar.factor)


def _missing(bus: Bus, known: dict[str, bool]) -> Verdict | None:
    wanted = known | {"whether its label is on the panel": bus.labelled is not None}
    missing = [told for told, is_known in wanted.items() if not is_known]
    return cannot_tell(*missing) if missing else None


WAYS: dict[str, Way] = {
    "PV1": sum_within, "PV2": opposite_end, "PV3": breakers_within, "PV4": centre_fed,
}  # fmt: skip


def _alternative(name: str) -> Callable[[PanelPlate, Record, Edition], Verdict]:
    """The verdict of one way, seen beside the others."""

    def judge(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
        found = on_bus(record)
        if not found:
            return does_not_apply("No source in parallel with the utility on this busbar.")
        bus = bus_of(record, edition)
        own = {way: judged(bus) for way, judged in WAYS.items()}
        return _placed(_beside(name, own), found)

    return judge


def _beside(name: str, own: dict[str, Verdict]) -> Verdict:
    held = [way for way, verdict in own.items() if verdict.outcome is Outcome.PASS]
    open_ones = [way for way, verdict in own.items() if verdict.outcome is Outcome.CANNOT_TELL]
    if name in held or (name in open_ones and not held):
        return own[name]
    if held:
        return does_not_apply(f"Not needed: it is allowed by {held[0]}.")
    if open_ones:
        return does_not_apply(f"{own[name].sentence} It may still be allowed by {open_ones[0]}.")
    return own[name]


def _placed(verdict: Verdict, found: Sequence[Connected]) -> Verdict:
    """What is missing of a source is put right at the source, the rest at the panel."""
    lacking = next((one for one in found if one.rated_a is None or not one.position), found[0])
    at_source = any("its " in told for told in verdict.missing)
    return replace(verdict, place=subjects.source_place(lacking)) if at_source else verdict


def supply_side(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
    """Ahead of the service disconnect: all their devices together ≤ the service."""
    ahead = [one for one in record.sources if one.position == SUPPLY]
    if not record.at_service or not ahead:
        return does_not_apply("No source connected ahead of the service disconnect.")
    if any(one.breaker_a is None and one.rated_a is None for one in ahead):
        return cannot_tell("the rating of the source’s overcurrent device")
    service = (record.home and record.home.service_a) or record.panel.main_a
    if not service:
        return cannot_tell("the rating of the service disconnect")
    factor = edition.checks.busbar.factor.value
    total = sum(one.breaker_a or (one.rated_a or 0.0) * factor for one in ahead)
    told = f"Sources ahead of the service {total:g} A, service {service:g} A."
    return passes(told) if total <= service + 1e-9 else fails(told)


def _way(number: int, title: str) -> Rule[PanelPlate]:
    name = f"PV{number}"
    return Rule(key=name.lower(), id=name, title=title, about=subjects.panel,
                judge=_alternative(name))  # fmt: skip


RULES: tuple[Rule[PanelPlate], ...] = (
    _way(1, "Source: sum within the busbar"),
    _way(2, "Source: at the opposite end, 120 % rule"),
    _way(3, "Source: all breakers within the busbar"),
    _way(4, "Source: center-fed panel of a dwelling, 120 % rule"),
    Rule(key="pv5", id="PV5", title="Source: ahead of the service disconnect",
         about=subjects.panel, judge=supply_side),
)  # fmt: skip
