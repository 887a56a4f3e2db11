"""Can the equipment interrupt the fault current there is, and is that current marked?"""

from __future__ import annotations

from panels.rules.check import subjects
from panels.rules.check.facts import DWELLINGS, Breaker, PanelPlate, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, does_not_apply, fails, passes
from panels.rules.edition import Edition

UNKNOWN_CURRENT = "the available fault current at this panel"


def marked(plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    """110.24: not of dwelling units; marked with the day, and again when the current changes."""
    here = subjects.panel(record)[0].place
    if not record.at_service:
        return does_not_apply("Asked at the service equipment only.")
    if record.occupancy in DWELLINGS:
        return does_not_apply("Not asked in dwelling units.")
    if not record.occupancy:
        return cannot_tell("what the service serves")
    if plate.fault_marked_ka is None:
        return cannot_tell("the fault current marked on it", place=here)
    if plate.fault_marked_on is None:
        return cannot_tell("the date on that marking", place=here)
    told = f"Marked {plate.fault_marked_ka:g} kA on {plate.fault_marked_on:%Y-%m-%d}"
    if record.available_ka is None:
        return cannot_tell(f"{UNKNOWN_CURRENT}, to compare with the marking")
    if plate.fault_marked_ka + 1e-9 >= record.available_ka:
        return passes(f"{told}; {record.available_ka:.1f} kA calculated.")
    again = f"{told}, but {record.available_ka:.1f} kA is available now. Mark it anew."
    return fails(again, place=here)


def panel_rating(plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    """The panel's own short-circuit rating."""
    if plate.interrupting_ka is None:
        return cannot_tell("its short-circuit rating")
    return _enough(plate.interrupting_ka, record, "The panel is")


def breaker_rating(breaker: Breaker, record: Record, _edition: Edition) -> Verdict:
    if breaker.interrupting_ka is None:
        return cannot_tell("its interrupting rating")
    return _enough(breaker.interrupting_ka, record, "The breaker is")


def _enough(rated_ka: float, record: Record, what: str) -> Verdict:
    """Against the current here; where only its most is known, a lower rating may still do."""
    most_ka = record.most_ka
    if record.available_ka is None and most_ka is not None:
        if rated_ka >= most_ka:
            return passes(f"{what} rated {rated_ka:g} kA; at most {most_ka:.1f} kA can come here.")
        return cannot_tell("conductors between the service and this panel")
    if record.available_ka is None:
        return cannot_tell(UNKNOWN_CURRENT, place=subjects.entrance(record)[0].place)
    told = f"{what} rated {rated_ka:g} kA; {record.available_ka:.1f} kA is available here."
    if rated_ka + 1e-9 >= record.available_ka:
        return passes(told)
    return fails(f"{told} Below that only as part of a tested series combination, so marked.")


def emergency_disconnect(_plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    """Outdoors, readily accessible, marked, and rated for the fault current."""
    if not record.at_service:
        return does_not_apply("Judged with the panel that the service feeds.")
    if record.occupancy in ("apartments", "other"):
        return does_not_apply("Asked of one- and two-family dwellings only.")
    if record.occupancy not in ("one_family", "two_family"):
        return cannot_tell("what the service serves")
    found = record.entrance
    assert found is not None  # noqa: S101  an occupancy of that kind stands in it
    if found.disconnect_outdoors is False:
        return fails("No disconnect outdoors in a readily accessible place.")
    if found.disconnect_marked is False:
        return fails("The disconnect outdoors is not marked as what it is.")
    amiss = _disconnect_rating(found.disconnect_ka, found.available_ka)
    if amiss:
        return fails(amiss)
    missing = [
        told
        for told, known in (
            ("whether there is a disconnect outdoors", found.disconnect_outdoors),
            ("whether it is marked", found.disconnect_marked),
            ("its short-circuit rating", found.disconnect_ka),
            ("the available fault current at the service", found.available_ka),
        )
        if known is None
    ]
    if missing:
        return cannot_tell(*missing)
    return passes("Outdoors, marked, and rated for the fault current.")


def _disconnect_rating(rated_ka: float | None, available_ka: float | None) -> str:
    if rated_ka is None or available_ka is None or rated_ka + 1e-9 >= available_ka:
        return ""
    return f"The disconnect is rated {rated_ka:g} kA; {available_ka:g} kA is available."


RULES: tuple[Rule[Breaker] | Rule[PanelPlate], ...] = (
    Rule(key="afc1", id="AFC1", title="The available fault current is marked, with its date",
         about=subjects.entrance, judge=marked),
    Rule(key="afc2_panel", id="AFC2", title="The panel withstands the fault current",
         about=subjects.panel, judge=panel_rating),
    Rule(key="afc2_breaker", id="AFC2", title="The breaker interrupts the fault current",
         about=subjects.breakers, judge=breaker_rating),
    Rule(key="emd", id="EMD", title="An emergency disconnect outdoors",
         about=subjects.entrance, judge=emergency_disconnect),
)  # fmt: skip
