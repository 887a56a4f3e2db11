"""Conductors asked about in one line, for the tests."""

from __future__ import annotations

from typing import Any

from panels.editions import edition
from panels.rules.questions import answer
from panels.rules.working import Result


def ask(key: str, by: str = "2017", **plain: Any) -> Result:
    return answer(key, plain, edition(by))


def number(result: Result, key: str) -> float:
    value = result.value(key)
    assert not isinstance(value, str)
    return float(value if isinstance(value, int | float) else value.magnitude)
