"""May the whole load of a dwelling run on conductors of 83 %, and if not, why not?"""

from __future__ import annotations

from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.edition import Edition
from panels.rules.quantities import percent, show
from panels.rules.wire.carried import SLACK, Carried
from panels.rules.wire.checks import Check
from panels.rules.wire.lookup import dwelling_size
from panels.rules.wire.sizes import Metal
from panels.rules.working import Line, line

MARKED = 75  # service equipment's terminals, where nothing else is said


@dataclass(frozen=True, kw_only=True)
class Share:
    """Whether the conductors carry the whole load of one dwelling, and on how many phases."""

    whole: bool
    phases: int


def objection(share: Share, device: Quantity, edition: Edition) -> str:
    """Why the 83 % rule does not apply, in a sentence; empty where it does."""
    rule = edition.wire.dwelling
    if not share.whole:
        return "These conductors are not said to carry the entire load of one dwelling."
    if share.phases != 1:
        return "It is for single-phase services and feeders."
    if not rule.least.value <= device <= rule.most.value:
        return (
            f"It is for ratings of {show(rule.least.value)} to {show(rule.most.value)};"
            f" this is {show(device)}."
        )
    return ""


def share_check(found: Carried, device: Quantity, edition: Edition) -> Check:
    """Ampacity of at least 83 % of the rating, after correction."""
    rule = edition.wire.dwelling
    needs = device * rule.factor.value
    return Check(
        key="dwelling_check",
        label="Entire load of one dwelling",
        passes=needs <= found.total * SLACK,
        words=f"carries {show(found.total)}, needs {percent(rule.factor.value)} of {show(device)}:"
        f" {show(needs)}",
        sources=(rule.factor,),
    )


def share_lines(share: Share, device: Quantity, metal: Metal, edition: Edition) -> list[Line]:
    """Whether the rule was used, and the size that the edition prints for that rating."""
    rule = edition.wire.dwelling
    why = objection(share, device, edition)
    label = f"Dwelling rule of {percent(rule.factor.value)}"
    lines = [line("dwelling_rule", label, "not used" if why else "used", rule.factor, how=why)]
    printed = None if why else dwelling_size(device, metal, edition)
    if printed:
        lines.append(
            line("dwelling_printed", f"Printed for {show(device)}", f"{printed} {metal.label}",
                 rule.rated, note="At 30 °C and with terminals of 75 °C.")
        )  # fmt: skip
    return lines
