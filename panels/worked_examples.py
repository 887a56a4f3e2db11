"""Does a published example come out as it is printed?"""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from contractor.units import Q, Quantity, ureg
from panels.editions import edition
from panels.rules.adoption import amended, amendment_from
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.fields import Fields
from panels.rules.quantities import VA, WATT, Value, read_quantity_any, show
from panels.rules.question import Question
from panels.rules.questions import QUESTIONS
from panels.rules.working import Result

NUMBER = re.compile(r"([-\d,]*\.?\d+)\s*%?")
TABLES = ("inputs", "dwelling", "building")
MARKS = {
    "V17": "read in NFPA 70-2017",
    "V": "read in the source named",
    "C": "computed from verified inputs",
    "2nd": "known only from a summary",
    "M": "from memory",
}


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One expected line, as printed, and how far off it may be."""

    line: str
    value: Value
    within: float
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Example:
    title: str
    source: str
    mark: str
    question: Question
    edition: Edition
    inputs: Any
    answers: tuple[Answer, ...]
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """An answer beside ours, in the unit the answer is printed in."""

    answer: Answer
    ours: Value

    @property
    def difference(self) -> float:
        """In the unit printed; of words, none where they are the same words."""
        if isinstance(self.ours, str) or isinstance(self.answer.value, str):
            return 0.0 if _alike(self.ours, self.answer.value) else math.nan
        return _magnitude(self.ours) - _magnitude(self.answer.value)

    @property
    def fits(self) -> bool:
        return abs(self.difference) <= self.answer.within + 1e-9


def read_file(path: Path) -> Example:
    """The example in a TOML file. Raises `BadDescription` saying what is wrong with it."""
    try:
        return read_example(tomllib.loads(path.read_text(encoding="utf-8")))
    except OSError as fault:
        raise BadDescription(str(path), f"cannot be read: {fault.strerror}.") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise BadDescription(str(path), f"is not a TOML file: {fault}.") from None


def read_example(plain: Mapping[str, Any]) -> Example:
    """The example from its tables, as described in ``tests/worked_examples/README.md``."""
    fields = Fields(plain=plain)
    mark = fields.text("mark")
    if mark and mark not in MARKS:
        raise fields.fault("mark", f"{mark!r} is not one of {', '.join(MARKS)}.")
    method = fields.need("method", '"standard"')
    if method not in QUESTIONS:
        raise fields.fault("method", f"{method!r} is not one of {', '.join(QUESTIONS)}.")
    question = QUESTIONS[method]
    changes = [amendment_from(row.plain, path=row.path) for row in fields.tables("amendments")]
    example = Example(
        title=fields.text("title") or question.title,
        source=fields.text("source") or "not stated",
        mark=mark,
        question=question,
        edition=amended(edition(str(fields.need("edition", '"2017"'))), changes),
        inputs=_inputs(fields, question),
        answers=tuple(_answer(row) for row in fields.tables("answers")),
        note=fields.text("note"),
    )
    if not example.answers:
        told = "is missing. Add [[answers]] with line and value. The lines: --about METHOD."
        raise fields.fault("answers", told)
    fields.done()
    return example


def _inputs(fields: Fields, question: Question) -> Any:
    """What is described: one table, by the name that suits it."""
    given = {name: plain for name in TABLES if (plain := fields.get(name)) is not None}
    if len(given) != 1:
        raise fields.fault(
            "inputs", f"Describe one of {', '.join(f'[{name}]' for name in TABLES)}."
        )
    (name, plain), *_ = given.items()
    try:
        return question.read(plain)
    except BadDescription as fault:
        raise fields.fault(f"{name}.{fault.field}", fault.fields[fault.field]) from None


def _answer(row: Fields) -> Answer:
    given = row.need("value", '"18600 VA"')
    within = row.number("within")
    answer = Answer(
        line=row.need("line", '"load"'),
        value=_printed(given, field=row.at("value")),
        within=_last_digit(given) if within is None else within,
        note=row.text("note"),
    )
    row.done()
    return answer


def _printed(given: Any, *, field: str) -> Value:
    """The printed answer: a number, a quantity that may be below zero, or words (``"2/0 AWG"``)."""
    if isinstance(given, int | float) and not isinstance(given, bool):
        return given
    try:
        return read_quantity_any(given, field=field, example="18600 VA", signed=True)
    except BadDescription:
        if isinstance(given, str):
            return given
        raise


def _last_digit(given: Any) -> float:
    """Half of the last printed digit: 0.5 for ``"18600 VA"``, 0.05 for ``"77.5 A"``; counts 0."""
    if isinstance(given, int):
        return 0.0
    printed = str(given["value"] if isinstance(given, dict) else given)
    decimals = re.match(r"\D*[\d,]*\.?(\d*)", printed)
    return float(0.5 * 10 ** -len(decimals[1] if decimals else ""))


def work(example: Example) -> tuple[Result, list[Comparison]]:
    """The calculation and each of its answers beside ours."""
    result = example.question.answer(example.inputs, example.edition)
    return result, [compare(answer, result) for answer in example.answers]


def compare(answer: Answer, result: Result) -> Comparison:
    """The answer beside ours. Refused where no such line is there, or it is of another kind."""
    try:
        ours = result.value(answer.line)
    except KeyError as fault:
        raise BadDescription("answers.line", f"{fault.args[0]}.") from None
    if isinstance(ours, str):
        return Comparison(answer=answer, ours=ours)
    answer = _as_number(answer) if isinstance(ours, int | float) else answer
    ours = _in_watts(ours, answer.value)
    if isinstance(answer.value, str):
        alike = False
    elif isinstance(ours, int | float) or isinstance(answer.value, int | float):
        alike = isinstance(ours, int | float) and isinstance(answer.value, int | float)
    else:
        alike = ours.is_compatible_with(answer.value)
        ours = ours.to(answer.value.units) if alike else ours
    if not alike:
        raise BadDescription(answer.line, f"ours is {show(ours)}, printed {show(answer.value)}.")
    return Comparison(answer=answer, ours=ours)


def _as_number(answer: Answer) -> Answer:
    """A count or a percentage may be printed as text: ``"3"``, ``"16.7 %"``."""
    if isinstance(answer.value, str) and (found := NUMBER.fullmatch(answer.value)):
        return replace(answer, value=float(found[1].replace(",", "")))
    return answer


def _in_watts(ours: Any, printed: Any) -> Any:
    """Books print loads in watts where the code reckons VA: ours, read as the book prints it.

    Only an answer is read so; what is given never is.
    """
    if not (isinstance(ours, ureg.Quantity) and isinstance(printed, ureg.Quantity)):
        return ours
    if ours.is_compatible_with(VA) and printed.is_compatible_with(WATT):
        return Q(float(ours.m_as(VA)), WATT)
    return ours


def _magnitude(value: Quantity | float) -> float:
    return float(value if isinstance(value, int | float) else value.magnitude)


def _alike(ours: Value, printed: Value) -> bool:
    """The same words; of a conductor the metal may be left out."""
    words = _words(ours), _words(printed).removeprefix("#")
    return words[0] == words[1] or words[0] in {f"{words[1]}copper", f"{words[1]}aluminum"}


def _words(value: Value) -> str:
    """As printed, however it is spaced or capitalised."""
    return "".join(show(value).split()).casefold()
