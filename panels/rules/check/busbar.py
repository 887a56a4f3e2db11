"""How much inverter current may a busbar take, and by which of the ways in 705.12?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Any

from contractor.units import Q
from panels.rules.check.connected import WAYS, Bus
from panels.rules.check.facts import VOLTS
from panels.rules.check.outcome import Outcome
from panels.rules.check.plain import known, word
from panels.rules.edition import Edition
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "busbar", "Sources on a busbar"


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A busbar and what is to be connected; amperes. None: not said."""

    bus_a: float
    device_a: float
    inverter_a: float | None
    breakers_a: float | None
    position: str
    labelled: bool | None
    dwelling: bool | None
    system: System


def read(plain: Mapping[str, Any]) -> Asked:
    """`bus`, `main` (the device that protects the busbar), `inverter` (rated output, all of them),
    `breakers` (all but the main, together), `position`, `labelled`, `dwelling`, `system`."""
    fields = Fields(plain=plain)
    asked = Asked(
        bus_a=_amperes(fields, "bus"),
        device_a=_amperes(fields, "main"),
        inverter_a=_maybe(fields, "inverter"),
        breakers_a=_maybe(fields, "breakers"),
        position=word(fields, "position"),
        labelled=known(fields, "labelled"),
        dwelling=known(fields, "dwelling"),
        system=System(word(fields, "system")),
    )
    fields.done()
    return asked


def answer(asked: Asked, edition: Edition) -> Result:
    """What the 120 % rule leaves, and each way's verdict for the inverter described."""
    bus = Bus(
        bus_a=asked.bus_a,
        device_a=asked.device_a,
        inverters_a=asked.inverter_a,
        breakers_a=asked.breakers_a if asked.breakers_a is not None else float("inf"),
        positions=(asked.position,),
        labelled=asked.labelled,
        dwelling=asked.dwelling,
        edition=edition,
    )
    sections = [Section(title="What the busbar takes", lines=tuple(_room(asked, bus)))]
    if asked.inverter_a is not None:
        sections.append(Section(title="By each way", lines=tuple(_ways(asked, bus))))
    return assemble(KEY, TITLE, edition, sections, about="record")


def _room(asked: Asked, bus: Bus) -> Iterator[Line]:
    values = bus.edition.checks.busbar
    factor, stretch = values.factor, values.stretch
    by_sum = max(asked.bus_a - asked.device_a, 0.0)
    left = max(bus.stretched - asked.device_a, 0.0)
    yield line(
        "left_by_sum", "Left without the 120 % rule", Q(by_sum, "A"), factor,
        how=f"{asked.bus_a:g} A - {asked.device_a:g} A",
    )  # fmt: skip
    yield line(
        "left", "Left by the 120 % rule", Q(round(left, 6), "A"), stretch,
        how=f"{stretch.value:g} × {asked.bus_a:g} A - {asked.device_a:g} A",
        note="Only at the end of the busbar away from the main, and labelled.",
    )  # fmt: skip
    most = left / factor.value
    yield line(
        "most_inverter", "Most inverter current", Q(round(most, 6), "A"), factor,
        how=f"{left:g} A ÷ {factor.value:g}", total=True,
        note="The rated output current of the inverter, never the rating of its breaker.",
    )  # fmt: skip
    between = VOLTS[asked.system][1]
    phases = sqrt(3) if len(asked.system.legs) == 3 else 1.0
    yield line(
        "most_power", "That is, at full voltage",
        Q(round(most * between * phases / 1000, 6), "kVA"),
        how=f"{most:g} A × {between} V{' × √3' if phases > 1 else ''}",
    )  # fmt: skip


def _ways(asked: Asked, bus: Bus) -> Iterator[Line]:
    found: dict[str, Outcome] = {}
    for name, judged in WAYS.items():
        if name == "PV3" and asked.breakers_a is None:
            continue
        verdict = judged(bus)
        found[name] = verdict.outcome
        section = getattr(bus.edition.checks.in_force, name.lower())
        yield line(
            name.lower(), f"{name}: {TITLES[name]}", verdict.outcome.label, section, *verdict.by,
            how=verdict.sentence,
        )  # fmt: skip
    yield Line(key="verdict", label="Together", value=_together(found), total=True)


def _together(found: Mapping[str, Outcome]) -> str:
    """One way that holds is enough; while one is open nothing is refused."""
    for outcome, told in ((Outcome.PASS, "allowed by"), (Outcome.CANNOT_TELL, "cannot tell;")):
        ways = [name for name, each in found.items() if each is outcome]
        if ways:
            return f"{told} {', '.join(ways)}{' open' if outcome is Outcome.CANNOT_TELL else ''}"
    return "not allowed"


TITLES = {
    "PV1": "sum within the busbar",
    "PV2": "opposite end, 120 % rule",
    "PV3": "all breakers within the busbar",
    "PV4": "center-fed panel of a dwelling",
}


def _amperes(fields: Fields, name: str) -> float:
    return float(fields.quantity(name, unit="A", example="200 A").magnitude)


def _maybe(fields: Fields, name: str) -> float | None:
    found = fields.maybe(name, unit="A", example="32 A")
    return None if found is None else float(found.magnitude)


QUESTION = Question(key=KEY, title=TITLE, read=read, answer=answer)
