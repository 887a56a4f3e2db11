"""Do the conductors to a panel carry its load, and does their device protect them?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.feeders.finding import Drawn, Finding, State, a, against
from panels.rules.feeders.site import Box, Run, Site
from panels.rules.quantities import AMPERE
from panels.rules.service import next_rating
from panels.rules.sourced import Sourced
from panels.rules.wire.carried import carried
from panels.rules.wire.conditions import REFERENCE_C, TOGETHER, Conditions
from panels.rules.wire.sizes import Metal, Size

MARKED = 75  # terminals are often marked for it; up to 100 A the code takes 60 unless they are


@dataclass(frozen=True, kw_only=True)
class Wired:
    """A run whose size and metal are known, with the device ahead of it (None: not recorded)."""

    panel: str
    run: Run
    size: Size
    metal: Metal
    device_a: float | None
    rated_a: float
    at: str
    entire: bool

    @property
    def what(self) -> str:
        sets = f"{self.run.sets} × " if self.run.sets > 1 else ""
        return f"Conductors {sets}{self.size} {self.metal.label}"


def conductors(
    site: Site, box: Box, drawn: Drawn, edition: Edition, *, entire: bool
) -> Iterator[Finding]:
    """The conductors against the load, and the device against the conductors."""
    run = site.run_to(box)
    breaker = site.feeders[box.name][1] if box.name in site.feeders else None
    cite, at = edition.wire.carrying.ampacity.cite, breaker.place if breaker else ""
    if run.size is None or run.metal is None:
        words = " and ".join(run.missing("size", "metal"))
        said = f"Conductors: cannot tell because {words} is not recorded."
        yield Finding(
            panel=box.name, check="conductor", state=State.UNKNOWN, sentence=said, cite=cite,
            record=words, at=at,
        )  # fmt: skip
        return
    device = breaker.rating_a if breaker else (None if box.through else box.main_a)
    wired = Wired(
        panel=box.name, run=run, size=run.size, metal=run.metal, rated_a=device or box.rating_a,
        device_a=None if box.transformer else device, at=at, entire=entire,
    )  # fmt: skip
    yield from _told(wired, drawn, edition)


def _told(wired: Wired, drawn: Drawn, edition: Edition) -> Iterator[Finding]:
    try:
        taken, marked = carrying(wired, edition), carrying(wired, edition, marked=True)
    except NotCovered as refused:
        yield Finding(
            panel=wired.panel, check="conductor", state=State.UNKNOWN, at=wired.at,
            sentence=refused.sentence, cite=refused.cite, record="conductors the table covers",
        )  # fmt: skip
        return
    for strict, lenient in zip(
        _findings(wired, taken, drawn, edition), _findings(wired, marked, drawn, edition),
        strict=True,
    ):  # fmt: skip
        hangs = strict.state is State.FAIL and lenient.state is not State.FAIL
        yield _on_marking(strict) if hangs else strict


def _on_marking(finding: Finding) -> Finding:
    said = f"{finding.sentence} At 60 °C; with terminals marked {MARKED} °C it would fit."
    record = "the temperature marked at the terminals"
    return replace(finding, state=State.UNKNOWN, sentence=said, record=record, left_a=None)


def _findings(wired: Wired, carries: float, drawn: Drawn, edition: Edition) -> Iterator[Finding]:
    cite = edition.wire.carrying.ampacity.cite
    yield against(
        drawn, carries, panel=wired.panel, check="conductor", what=wired.what, cite=cite,
        at=wired.at,
    )  # fmt: skip
    if wired.device_a is None:
        return
    largest, by = _largest(wired, carries, edition)
    fits = wired.device_a <= largest + 1e-6
    said = f"{wired.what}: {a(carries)}, behind {a(wired.device_a)}; at most {a(largest)}."
    yield Finding(
        panel=wired.panel, check="protection", state=State.PASS if fits else State.FAIL,
        sentence=said, cite=by.cite, confirm=by.confirm, limit_a=largest,
        left_a=largest - wired.device_a, at=wired.at,
    )  # fmt: skip


def _largest(wired: Wired, carries: float, edition: Edition) -> tuple[float, Sourced[Any]]:
    """The largest device: the next standard rating up, within limits (240.4(B)); on conductors
    of a whole dwelling what their ampacity is 83 % of."""
    book, dwelling = edition.wire.carrying, edition.wire.dwelling
    largest: float = carries
    by: Sourced[Any] = book.next_size_through
    if carries <= by.value.m_as(AMPERE):
        largest = _amperes(next_rating(Q(carries, AMPERE), edition))
    rated = wired.device_a or 0
    within = _amperes(dwelling.least.value) <= rated <= _amperes(dwelling.most.value)
    if wired.entire and within and carries / dwelling.factor.value > largest:
        largest, by = carries / dwelling.factor.value, dwelling.factor
    return largest, by


def carrying(wired: Wired, edition: Edition, *, marked: bool = False) -> float:
    """Amperes all sets carry, as `panels.rules.wire.carried` works it out.

    `marked`: as if terminals whose marking is not recorded were marked 75 °C. Conductors of a
    whole dwelling are always read there, as the table of dwelling services is.
    """
    run, device = wired.run, Q(wired.rated_a, AMPERE)
    conditions = Conditions(
        metal=wired.metal,
        sets=run.sets,
        insulation=run.insulation_c,
        terminal=run.terminal_c or (MARKED if marked or wired.entire else None),
        ambient=REFERENCE_C if run.ambient_c is None else run.ambient_c,
        together=run.bundled or TOGETHER,
    )
    return _amperes(carried(wired.size, conditions, edition, device=device).total)


def _amperes(quantity: Quantity) -> float:
    return float(quantity.m_as(AMPERE))
