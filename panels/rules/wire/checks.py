"""Does a conductor pass for its load and its overcurrent device, and if not, why?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from contractor.units import Quantity
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import show
from panels.rules.sourced import Sourced
from panels.rules.wire.carried import SLACK, Carried, largest_device
from panels.rules.wire.conditions import Loading
from panels.rules.working import Line, Section, line

PASSES, FAILS = "passes", "fails"
OWN_ARTICLES = "Motors and air conditioning are protected by their own articles (240.4(G))."


@dataclass(frozen=True, kw_only=True)
class Check:
    """One comparison: `words` say both sides of it."""

    key: str
    label: str
    passes: bool
    words: str
    sources: tuple[Sourced[Any], ...]
    note: str = ""

    @property
    def line(self) -> Line:
        verdict = PASSES if self.passes else FAILS
        return line(self.key, self.label, verdict, *self.sources, how=self.words, note=self.note)


def checks(found: Carried, loading: Loading, edition: Edition) -> list[Check]:
    """What is asked of the conductor: the load twice, before and after correction, and the device.

    210.19(A)(1), 215.2(A)(1), 240.4. What is not known is not asked.
    """
    asked = []
    if loading.current.magnitude:
        asked += [_before(found, loading, edition), _after(found, loading, edition)]
    if loading.device is not None:
        asked.append(_device(found, loading, loading.device, edition))
    return asked


def _before(found: Carried, loading: Loading, edition: Edition) -> Check:
    has, needs = found.at_terminals * found.conditions.sets, loading.counted(edition)
    return Check(
        key="load_before",
        label="Load, continuous part at 125 %, before correction",
        passes=needs <= has * SLACK,
        words=_words(has, needs),
        sources=(edition.wire.carrying.continuous,),
    )


def _after(found: Carried, loading: Loading, edition: Edition) -> Check:
    has, needs = found.corrected * found.conditions.sets, loading.current
    return Check(
        key="load_after",
        label="Load after correction for ambient and bundling",
        passes=needs <= has * SLACK,
        words=_words(has, needs),
        sources=(edition.wire.carrying.ampacity,),
    )


def _device(found: Carried, loading: Loading, device: Quantity, edition: Edition) -> Check:
    try:
        largest = largest_device(found, edition, receptacles=loading.receptacles)
    except NotCovered as refusal:
        return Check(
            key="device_check", label="Overcurrent device", passes=False,
            words=refusal.sentence, sources=(),
        )  # fmt: skip
    passes = device <= largest.device * SLACK
    return Check(
        key="device_check",
        label="Overcurrent device",
        passes=passes,
        words=f"may be {show(largest.device)} ({largest.how}), is {show(device)}",
        sources=largest.sources,
        note="" if passes else OWN_ARTICLES,
    )


def _words(has: Quantity, needs: Quantity) -> str:
    return f"carries {show(has)}, needs {show(needs)}"


def checks_section(asked: Sequence[Check], title: str = "Checks") -> Section:
    """Each check, and whether all of them pass."""
    lines = [check.line for check in asked]
    if lines:
        good = all(check.passes for check in asked)
        lines.append(line("verdict", "All checks", PASSES if good else FAILS, total=True))
    return Section(title=title, lines=tuple(lines))
