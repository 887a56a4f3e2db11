"""How does a field measurement stand against each named criterion, with the working shown?"""

from __future__ import annotations

from collections.abc import Iterator

from contractor.units import Q
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.question import Question
from panels.rules.readings import insulation, judgements, voltage
from panels.rules.readings.description import UNBALANCE, UNIT, Asked, read
from panels.rules.readings.kinds import Judgement, Measured
from panels.rules.report import assemble
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "measurement", "Field measurement"
TOPICS = {"insulation": ("insulation",)}


def answer(asked: Asked, edition: Edition) -> Result:
    """The value, what was made of it, and each criterion with its verdict."""
    if asked.kind == UNBALANCE:
        sections = [Section(title="Unbalance", lines=tuple(_unbalanced(asked)))]
    else:
        found = tuple(_judgements(asked))
        sections = [
            Section(title="Measured", lines=tuple(_measured(asked))),
            Section(title="By each criterion", lines=tuple(_verdict(one) for one in found)),
        ]
    return assemble(
        KEY, TITLE, edition, sections, about="measured", topics=TOPICS.get(asked.kind, ())
    )


def _judgements(asked: Asked) -> Iterator[Judgement]:
    found = (
        tuple(judgements(asked.reading))
        if asked.reading
        else tuple(voltage.by_ranges(asked.volts[0], asked.nominal))
    )
    keys = [one.criterion for one in found]
    if asked.criterion and asked.criterion not in keys:
        told = ", ".join(key for key in keys if key) or "none"
        raise BadDescription("criterion", f"{asked.criterion!r} does not cover this; {told}.")
    return (one for one in found if asked.criterion in ("", one.criterion))


def _measured(asked: Asked) -> Iterator[Line]:
    reading = asked.reading
    value = reading.value if reading else asked.volts[0]
    if asked.kind == Measured.TORQUE:
        yield line("value", "Measured, lb-in", value)
    else:
        yield line("value", "Measured", Q(value, UNIT[Measured(asked.kind)]))
    if reading and reading.temperature_c is not None:
        corrected = insulation.at_reference(reading.value, reading.temperature_c)
        yield line(
            "corrected", "At 20 °C, about", Q(round(corrected, 6), "Mohm"), insulation.HALVES,
            how=f"{reading.value:g} × 2 ^ (({reading.temperature_c:g} - 20) / 10)",
        )  # fmt: skip


def _verdict(one: Judgement) -> Line:
    return Line(
        key=one.criterion or "none", label=one.title or "No criterion", value=one.finding.label,
        note=one.sentence, cite=one.source, confirm=one.confirm,
    )  # fmt: skip


def _unbalanced(asked: Asked) -> Iterator[Line]:
    told = voltage.unbalance(asked.volts)
    assert told is not None  # noqa: S101 - three zeros are refused when they are read
    parts = " + ".join(f"{one:g}" for one in asked.volts)
    yield line("mean", "Mean", Q(round(told.mean, 6), "V"), how=f"({parts}) / 3")
    yield line("deviation", "Largest deviation from it", Q(round(told.deviation, 6), "V"))
    yield line("percent", "Unbalance, %", round(told.percent, 6), how="deviation / mean × 100")
    yield _verdict(told.judgement)


QUESTION = Question(key=KEY, title=TITLE, read=read, answer=answer)
