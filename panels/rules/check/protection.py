"""Do ratings fit: the panel to its protection and load, each breaker to its bus and conductor?"""

from __future__ import annotations

from panels.rules.check import conductor, subjects
from panels.rules.check.facts import DWELLINGS, Breaker, PanelPlate, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, does_not_apply, fails, passes
from panels.rules.edition import Edition

OUTLETS = ("receptacles", "lights", "both")


def protected(plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    device = record.protected_at
    if device is None:
        missing = "a main breaker" if record.at_service else "the breaker of the feeder"
        return cannot_tell(f"{missing}, or another device that protects the busbar")
    if device <= plate.bus_a:
        return passes(f"Protected at {device} A; the busbar is rated {plate.bus_a} A.")
    return fails(
        f"Protected at {device} A, above the {plate.bus_a} A of its busbar. Check both markings; "
        "the exceptions are few."
    )


def within_bus(breaker: Breaker, record: Record, _edition: Edition) -> Verdict:
    bus = record.panel.bus_a
    if breaker.rating_a > bus:
        return fails(f"A {breaker.rating_a} A breaker on a {bus} A bus. Check both markings.")
    return passes(f"{breaker.rating_a} A on a {bus} A bus.")


def carries_load(plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    if record.calculated_a is None:
        return cannot_tell("a load calculation of what feeds this panel")
    told = f"Calculated load {record.calculated_a:.1f} A, panel rated {plate.rating_a} A."
    return passes(told) if record.calculated_a <= plate.rating_a + 1e-9 else fails(told)


def secondary(plate: PanelPlate, _record: Record, _edition: Edition) -> Verdict:
    if plate.transformer_kva is None:
        return does_not_apply("Not fed through a transformer of its own, as recorded.")
    if plate.secondary_protected_a is None:
        return cannot_tell("the protection on the secondary side of its transformer")
    device = plate.secondary_protected_a
    told = f"Protected at {device:g} A on the secondary side; the busbar is rated {plate.bus_a} A."
    return passes(told) if device <= plate.bus_a else fails(told)


def standard_rating(breaker: Breaker, _record: Record, edition: Edition) -> Verdict:
    return _standard(breaker.rating_a, edition)


def standard_main(plate: PanelPlate, _record: Record, edition: Edition) -> Verdict:
    if plate.main_a is None:
        return does_not_apply("It has main lugs only.")
    return _standard(plate.main_a, edition)


def _standard(rating: int, edition: Edition) -> Verdict:
    listed = edition.ratings.standard.value + _branch_only(edition)
    if rating in listed:
        return passes(f"{rating} A is a standard rating.")
    return fails(f"{rating} A is not a standard breaker rating. Check the handle.")


def _branch_only(edition: Edition) -> tuple[int, ...]:
    """Ratings that an edition names for branch circuits besides the list: 10 A since 2023."""
    return edition.checks.arc_fault.ratings.value


def tapped(breaker: Breaker, _record: Record, edition: Edition) -> Verdict:
    if breaker.kind != "feeder":
        return does_not_apply("Not a feeder.")
    if not breaker.tap_rule:
        return passes("Protected where it begins, by this breaker; no tap rule is claimed.")
    tap = next((one for one in edition.checks.taps.value if one.rule == breaker.tap_rule), None)
    if tap is None:
        return passes(f"A tap, under the rule recorded: {breaker.tap_rule}.")
    if breaker.length_ft is None:
        return cannot_tell("the length of the tap")
    if breaker.length_ft > tap.length_ft:
        told = f"{breaker.length_ft:g} ft long; the rule claimed ends at {tap.length_ft:g} ft."
        return fails(told, edition.checks.taps)
    carried = conductor.tap_ampacity(breaker, edition)
    if carried is None:
        return cannot_tell("the conductors of the tap")
    least = breaker.rating_a * tap.part
    told = f"Carries {carried:g} A; the rule claimed asks for {least:.0f} A of {breaker.rating_a} A"
    return (passes if carried >= least else fails)(f"{told}.", edition.checks.taps)


def continuous(breaker: Breaker, record: Record, edition: Edition) -> Verdict:
    if not breaker.in_use or breaker.kind == "source":
        return does_not_apply("No load of its own.")
    if breaker.kind == "feeder":
        return does_not_apply("A feeder: its load is that of the panel it feeds.")
    if not breaker.draws and breaker.serves in OUTLETS and record.occupancy in DWELLINGS:
        return does_not_apply("Outlets for general use: a dwelling counts them by floor area.")
    if not breaker.draws:
        return cannot_tell("the loads on this circuit", place=subjects.load(record)[0].place)
    if any(draw.va is None for draw in breaker.draws):
        return cannot_tell("the nameplate of a load", place=subjects.load(record)[0].place)
    share = edition.wire.carrying.continuous
    factor = 1.0 if breaker.full_rated else share.value
    amps = sum(
        _amperes(breaker, record, draw.va or 0.0) * (factor if draw.continuous else 1.0)
        for draw in breaker.draws
    )
    told = f"{amps:.1f} A with continuous load at {factor:.0%} on a {breaker.rating_a} A breaker."
    return (passes if amps <= breaker.rating_a + 1e-9 else fails)(told, share)


def _amperes(breaker: Breaker, record: Record, va: float) -> float:
    phases = 3**0.5 if breaker.poles == 3 else 1.0
    return va / (record.volts(breaker) * phases)


RULES: tuple[Rule[Breaker] | Rule[PanelPlate], ...] = (
    Rule(key="ocp1", id="OCP1", title="The busbar is protected at its rating",
         about=subjects.panel, judge=protected),
    Rule(key="ocp1_bus", id="OCP1", title="No breaker above its busbar",
         about=subjects.breakers, judge=within_bus),
    Rule(key="ocp2", id="OCP2", title="The panel carries its calculated load",
         about=subjects.load, judge=carries_load),
    Rule(key="ocp3", id="OCP3", title="Protected on the secondary side of a transformer",
         about=subjects.panel, judge=secondary),
    Rule(key="ocp4_main", id="OCP4", title="The main is of a standard rating",
         about=subjects.panel, judge=standard_main),
    Rule(key="ocp4_rating", id="OCP4", title="Of a standard rating",
         about=subjects.breakers, judge=standard_rating),
    Rule(key="ocp4_small", id="OCP4", title="Small conductors are protected at their limit",
         about=subjects.breakers, judge=conductor.small),
    Rule(key="ocp4_ampacity", id="OCP4", title="The conductor carries the breaker’s rating",
         about=subjects.breakers, judge=conductor.carries),
    Rule(key="ocp5", id="OCP5", title="Feeders are protected where they begin, or tapped by a rule",
         about=subjects.breakers, judge=tapped),
    Rule(key="load1", id="LOAD1", title="Continuous load at 125 % fits the breaker",
         about=subjects.breakers, judge=continuous),
)  # fmt: skip
