"""What load does a service carry by what its meter recorded, and what still fits (220.87)?"""

from __future__ import annotations

from collections.abc import Sequence

from contractor.units import Quantity
from panels.rules.demand import item
from panels.rules.dwelling import CLIMATE, Kind, Load
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.metered_given import Recording, read_recording
from panels.rules.quantities import AMPERE, VA, apparent_power, percent, show, va
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.service import next_rating
from panels.rules.sourced import Sourced
from panels.rules.vehicles import rated, vehicle_item
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "metered", "Existing load by its meter"
QUARTER = "15 min"


def metered(recording: Recording, edition: Edition) -> Result:
    """125 % of the highest demand on record, and the new load in full, against the rating.

    Raises `NotCovered` where the recording does not open the method, `BadDescription` where
    something the method asks about was not said.
    """
    basis = _opened_by(recording, edition)
    added, additions = _additions(recording)
    existing = va((recording.demand.m_as(VA) + added.m_as(VA)) * edition.recorded.share.value)
    new_load, new = _new(recording.new_loads, edition)
    sections = [
        _recorded(recording, edition, basis),
        additions,
        _existing(recording, added, existing, edition),
        new,
        _service(recording, existing, new_load, edition),
    ]
    return assemble(KEY, TITLE, edition, sections, topics=["existing", "meter", "recording"])


def _opened_by(recording: Recording, edition: Edition) -> Sourced[int]:
    """The rule that lets this recording stand for the load: a year, or the exception."""
    rule = edition.recorded
    if recording.renewable and rule.source_bars.value:
        raise NotCovered(
            "The metered method is not for a site with a source of its own or with peak shaving:"
            " the meter does not see what they supply. Calculate the load from the nameplates"
            + (f". {rule.source_bars.confirm}" if rule.source_bars.confirm else ""),
            cite=rule.source_bars.cite,
        )
    if recording.days >= rule.days.value:
        return rule.days
    if recording.days < rule.days_by_exception.value:
        raise NotCovered(
            f"{recording.days} days are on record. The method asks for a year, or by its exception"
            f" for at least {rule.days_by_exception.value} days without a break",
            cite=rule.days_by_exception.cite,
        )
    _excepted(recording, edition)
    return rule.days_by_exception


def _excepted(recording: Recording, edition: Edition) -> None:
    """What the exception asks of a recording shorter than a year."""
    rule = edition.recorded
    if recording.interval.m_as("min") > rule.minutes_by_exception.value:
        raise NotCovered(
            f"{recording.days} days by the {show(recording.interval)}: a recording shorter than a"
            f" year has to be by {rule.minutes_by_exception.value} minutes",
            cite=rule.minutes_by_exception.cite,
        )
    if rule.occupied.value and not recording.occupied:
        raise NotCovered(
            "A recording shorter than a year counts only where the building was occupied while it"
            " was made; say occupied = true if it was",
            cite=rule.occupied.cite,
        )
    if recording.additions is None:
        raise BadDescription(
            "additions",
            "is missing. A recording shorter than a year does not see every season: list the larger"
            " of heating and cooling and the seasonal loads that did not run, or write"
            " additions = [] where all of them did.",
        )


def _recorded(recording: Recording, edition: Edition, basis: Sourced[int]) -> Section:
    minutes = recording.interval
    coarse = minutes.m_as("min") > edition.recorded.minutes_by_exception.value
    told = f"Averages over {show(minutes)} understate the demand over {QUARTER}." if coarse else ""
    lines = [
        line("days", "Days on record", recording.days, basis),
        line("interval", "Averaged over", minutes, note=told),
        line("recorded", "Highest on record", recording.given, note=recording.source),
        *_power_factor(recording),
        line("demand", "Maximum demand", recording.demand, basis, how=_how(recording)),
    ]
    return Section(title="Recorded", lines=tuple(lines))


def _power_factor(recording: Recording) -> list[Line]:
    factor = recording.power_factor
    if factor is None or not recording.given.is_compatible_with("W"):
        return []
    told = "As given with the demand."
    if factor == 1:
        told = "Taken as 1.0 as given: the fewest VA the recorded kW can be. Measure it if close."
    return [line("power_factor", "Power factor", factor, note=told)]


def _how(recording: Recording) -> str:
    if recording.given.is_compatible_with("W"):
        return f"{show(recording.given)} ÷ {recording.power_factor:g}"
    if recording.given.is_compatible_with(AMPERE):
        supply = recording.service.supply
        root = "√3 × " if supply.phases == 3 else ""
        return f"{root}{show(recording.given)} × {show(supply.line)}"
    return ""


def _additions(recording: Recording) -> tuple[Quantity, Section | None]:
    """What did not run while it was recorded; of heating and cooling the larger."""
    loads = recording.additions or ()
    if not loads:
        return va(0.0), None
    cooling = [load for load in loads if load.kind is Kind.COOLING]
    heating = [load for load in loads if load.kind in CLIMATE and load.kind is not Kind.COOLING]
    rest = [load for load in loads if load.kind not in CLIMATE]
    season, other = max(cooling, heating, key=_sum), min(cooling, heating, key=_sum)
    how = f"the larger of {show(va(_sum(season)))} and {show(va(_sum(other)))}" if other else ""
    total = va(_sum(season) + _sum(rest))
    lines = [item(load) for load in loads]
    lines.append(line("additions", "Not on record", total, how=how, total=True))
    return total, Section(title="What did not run meanwhile", lines=tuple(lines))


def _sum(loads: Sequence[Load]) -> float:
    return sum(load.all for load in loads)


def _existing(
    recording: Recording, added: Quantity, existing: Quantity, edition: Edition
) -> Section:
    share = edition.recorded.share
    whole = va(recording.demand.m_as(VA) + added.m_as(VA))
    label = f"Existing load at {percent(share.value)}"
    how = f"{show(whole)} × {percent(share.value)}"
    return Section(
        title="Existing load",
        lines=(line("existing", label, existing, share, how=how, total=True),),
    )


def _new(loads: Sequence[Load], edition: Edition) -> tuple[Quantity, Section | None]:
    counted = [rated(load, edition) for load in loads]
    total = va(_sum(counted))
    if not counted:
        return total, None
    lines = [
        vehicle_item(load, edition) if load.kind is Kind.VEHICLE else item(load) for load in counted
    ]
    lines.append(line("new", "New load", total, edition.recorded.share, total=True))
    return total, Section(title="New load", lines=tuple(lines))


def _service(
    recording: Recording, existing: Quantity, new_load: Quantity, edition: Edition
) -> Section:
    supply, rating = recording.service.supply, recording.service.rating
    load = va(existing.m_as(VA) + new_load.m_as(VA))
    current = supply.amperes(between_legs=load, to_neutral=va(0.0))
    how = f"{show(existing)} + {show(new_load)}"
    lines = [
        line("load", "Existing and new load", load, edition.recorded.share, how=how, total=True),
        line("current", "Current per leg", current, how=supply.system.label, total=True),
        line("rating", "Standard rating at least", next_rating(current, edition),
             edition.ratings.standard, total=True),
    ]  # fmt: skip
    if rating is not None:
        whole = apparent_power(current=rating, volts=supply.line, phases=supply.phases)
        lines += _left(rating, current, va(whole.m_as(VA) - load.m_as(VA)))
    return Section(title="Service or feeder", lines=tuple(lines))


def _left(rating: Quantity, current: Quantity, left: Quantity) -> list[Line]:
    """What still fits on the rating, in amperes and VA; below zero where it is too small."""
    how = f"{show(rating)} − {show(current)}"
    if left.magnitude < 0:
        note = "The load is above the rating."
        return [
            line("left", f"Not enough on {show(rating)}", rating - current, how=how, note=note),
            line("left_va", "Too much by", left),
        ]
    return [
        line("left", f"Still fits on {show(rating)}", rating - current, how=how, total=True),
        line("left_va", "Still fits", left, total=True),
    ]


QUESTION = Question(key=KEY, title=TITLE, read=read_recording, answer=metered)
