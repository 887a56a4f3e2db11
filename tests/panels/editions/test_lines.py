"""Does every line of every answer cite its own edition, and own up to what nobody has read?

All published examples and some homes with a little of everything are worked by every question and
every edition. The 2026 renumbering (Article 220 became 120) and the marks are those of the check
values, section 1.3.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from contractor.errors import Invalid
from contractor.units import ureg
from panels.editions import EDITIONS
from panels.rules.adoption import _put as put
from panels.rules.edition import Edition, values
from panels.rules.question import Question
from panels.rules.questions import QUESTIONS
from panels.rules.tables import Tiers
from panels.rules.working import Result
from panels.worked_examples import read_file

EXAMPLES = Path(__file__).parents[2] / "worked_examples"
BY = [pytest.param(edition, id=key) for key, edition in EDITIONS.items()]
HOME: dict[str, Any] = {
    "floor_area": "2400 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1,
    "service": {"rating": "200 A"},
}  # fmt: skip
LOADS: list[dict[str, Any]] = [
    {"kind": "range", "nameplate": "14 kW"}, {"kind": "dryer", "nameplate": "4.5 kW"},
    {"kind": "water_heater", "nameplate": "4.5 kW"},
    {"kind": "appliance", "name": "Dishwasher", "nameplate": "1.2 kVA", "volts": 120},
    {"kind": "appliance", "name": "Disposer", "nameplate": "300 VA", "volts": 120, "motor": True},
    {"kind": "appliance", "name": "Sump", "nameplate": "900 VA", "volts": 120, "motor": True},
    {"kind": "motor", "name": "Well pump", "nameplate": "2 kVA", "volts": 240},
]  # fmt: skip
HEAT, COOL = {"kind": "heating", "nameplate": "6 kW"}, {"kind": "cooling", "nameplate": "5.5 kVA"}
CAR = {"kind": "vehicle", "nameplate": "9.6 kVA", "continuous": True}
HOMES: list[dict[str, Any]] = [
    {**HOME, "loads": [*LOADS, HEAT, COOL, CAR]},
    {**HOME, "loads": [*LOADS, HEAT, COOL, {"kind": "vehicle"}]},
    {**HOME, "loads": [*LOADS, HEAT, COOL, {**CAR, "nameplate": "900 VA"}]},
    {**HOME, "loads": [*LOADS, COOL, {**CAR, "new": True}]},
    {**HOME, "loads": [*LOADS, HEAT, {**COOL, "new": True}]},
    {**HOME, "loads": [*LOADS, {**CAR, "managed": True}], "managed_at": "40 A"},
    {**HOME, "loads": [*LOADS, {"kind": "heat_pump", "nameplate": "24 A"},
                       {"kind": "supplement", "nameplate": "10 kW"}]},
    {**HOME, "service": {"system": "1ph-208", "rating": "200 A"}, "loads": [*LOADS, CAR]},
]  # fmt: skip
BUILDINGS = [
    {"units": [{"count": count, **{k: v for k, v in HOME.items() if k != "service"},
                "loads": [*LOADS, HEAT, COOL]}]}
    for count in (2, 8)
]  # fmt: skip


class Asked(NamedTuple):
    name: str
    question: Question
    inputs: Any


@cache
def asked() -> list[Asked]:
    files = sorted(EXAMPLES.glob("*.toml"))
    published = [
        Asked(file.stem, example.question, example.inputs)
        for file, example in zip(files, map(read_file, files), strict=True)
    ]
    homes = [
        Asked(f"{key} {number}", QUESTIONS[key], QUESTIONS[key].read(plain))
        for key in ("standard", "optional", "existing", "lighting", "dryers", "cooking",
                    "multifamily", "two_family")
        for number, plain in enumerate([*HOMES, *BUILDINGS])
    ]  # fmt: skip
    return published + homes


def answered(one: Asked, edition: Edition) -> Result | str:
    """The result, or the sentence by which it was refused."""
    try:
        return one.question.answer(one.inputs, edition)
    except Invalid as refusal:
        return refusal.sentence


def said(result: Result | str) -> Iterator[str]:
    """Everything a reader is told."""
    if isinstance(result, str):
        yield result
        return
    yield from (result.method_title, *result.cautions, *result.amendments)
    for line in result.lines:
        yield from (line.label, line.how, line.cite, line.note, line.confirm)


@pytest.mark.parametrize("edition", BY)
def test_no_line_cites_the_article_of_another_edition(edition: Edition) -> None:
    wrong = r"\b220\.\d|Article 220\b" if edition.key >= "2026" else r"\b120\.\d|Article 120\b"
    right = r"\b120\.\d" if edition.key >= "2026" else r"\b220\.\d"
    told = [(one.name, text) for one in asked() for text in said(answered(one, edition))]
    assert [one for one in told if re.search(wrong, one[1])] == []
    assert len([one for one in told if re.search(right, one[1])]) > 100


@pytest.mark.parametrize("edition", BY)
def test_a_value_nobody_has_read_says_so_wherever_it_decides(edition: Edition) -> None:
    """Each such value is moved a little: where any line comes out otherwise, the answer by the
    value as it stands must ask its reader to confirm it."""
    silent, moved = [], set()
    usual = [
        (one, result) for one in asked() if isinstance(result := answered(one, edition), Result)
    ]
    for path, sourced in values(edition):
        other = nudged(sourced.value) if sourced.mark.unread else None
        if other is None:
            continue
        nudged_edition = put(edition, path.split("."), replace(sourced, value=other))
        for one, before in usual:
            after = answered(one, nudged_edition)
            if isinstance(after, str) or same(before, after):
                continue
            moved.add(path)
            if not any(sourced.confirm in text for text in before.confirm):
                silent.append(f"{one.name}: {path}")
    assert silent == []
    assert moved, "no value was moved: this test looks at nothing"


def same(one: Result, other: Result) -> bool:
    return shown(one) == shown(other)


def shown(result: Result) -> Mapping[str, str]:
    return {line.key: line.shown for line in result.lines}


def nudged(value: Any) -> Any:
    """The value a little off, of its own kind; None for whole tables and sets."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, ureg.Quantity):
        return value * 1.25 if value.magnitude else type(value)(2000.0, value.units)
    if isinstance(value, int | float):
        return type(value)(value * 0.75) if value > 1 else value * 0.9
    if isinstance(value, Tiers):
        return Tiers(slices=tuple((end, factor * 0.9) for end, factor in value.slices))
    return None
