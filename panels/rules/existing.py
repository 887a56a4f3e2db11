"""What load does an existing dwelling have after an addition (220.83)?"""

from __future__ import annotations

from panels.rules.climate import LABEL, cooling, heating
from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dwelling import CLIMATE, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.optional import nameplates, outside, tiered
from panels.rules.optional_climate import separate_heaters
from panels.rules.quantities import show, va
from panels.rules.report import report
from panels.rules.standard import part_three
from panels.rules.working import Result, line

KEY, TITLE = "existing", "Existing dwelling, optional method"


def objection(dwelling: Dwelling, edition: Edition) -> str | None:
    """Why this method does not apply, or None (220.83)."""
    if dwelling.service.supply.phases != 1:
        cite = edition.existing.demand.cite
        return f"It is for a three-wire supply ({cite}); this one has three phases."
    return None


def existing(dwelling: Dwelling, edition: Edition) -> Result:
    """Existing and new load together; loads marked `new` are what is being added.

    By 220.83(B) where heating or cooling is among the new loads, else by 220.83(A).
    """
    among = _among_the_others(dwelling, edition)
    loads = [*nameplates(dwelling, edition), *among]
    counted = [
        tiered(dwelling, edition, loads, edition.existing.demand),
        _climate(dwelling, among, edition),
        *outside(dwelling, edition),
    ]
    unbalance = part_three(dwelling, edition)
    return report(
        KEY, TITLE, dwelling, edition, counted=counted, unbalance=unbalance, topics=["existing"]
    )


def adds_climate(dwelling: Dwelling) -> bool:
    """Whether heating or cooling is being added, so that 220.83(B) applies."""
    return any(load.new for load in dwelling.of(*CLIMATE))


def _among_the_others(dwelling: Dwelling, edition: Edition) -> tuple[Load, ...]:
    """Heating and cooling that go through the tiers with the other loads.

    Room heaters controlled separately are named by 220.83(B) only below four.
    """
    rule, heaters = edition.existing, dwelling.of(Kind.HEATING)
    if adds_climate(dwelling):
        return heaters if separate_heaters(heaters) >= rule.few_heaters_below.value else ()
    return _larger(dwelling, ()) if rule.untouched_within_tiers.value else ()


def _climate(dwelling: Dwelling, among: tuple[Load, ...], edition: Edition) -> Demand:
    """The larger of heating and cooling in full, outside the tiers."""
    rule, added = edition.existing, adds_climate(dwelling)
    loads = [load for load in dwelling.of(*CLIMATE) if load not in among]
    if not loads or (among and not added):
        return Demand(key="climate", label=LABEL)
    chosen = _larger(dwelling, among)
    shares = [Share(load=load, factor=rule.climate.value) for load in chosen]
    result = shared("climate", LABEL, shares, lines=())
    warm, cold = va(_sum(cooling(dwelling))), va(_sum(_winter(dwelling, among)))
    how = f"heating {show(cold)}, cooling {show(warm)}; the larger"
    source = rule.climate if added else rule.untouched_within_tiers
    lines = [
        *(item(load) for load in loads),
        line("climate", LABEL, result.load, source, how=how, total=True),
    ]
    return shared("climate", LABEL, shares, lines=lines)


def _winter(dwelling: Dwelling, left_out: tuple[Load, ...]) -> tuple[Load, ...]:
    return tuple(load for load in heating(dwelling) if load not in left_out)


def _larger(dwelling: Dwelling, left_out: tuple[Load, ...]) -> tuple[Load, ...]:
    """The larger of heating and cooling, which do not run together."""
    return max(cooling(dwelling), _winter(dwelling, left_out), key=_sum)


def _sum(loads: tuple[Load, ...]) -> float:
    return sum(load.all for load in loads)
