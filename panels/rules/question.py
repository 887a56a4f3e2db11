"""What makes up a question that can be answered here?"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from panels.rules.edition import Edition
from panels.rules.working import Result


@dataclass(frozen=True, kw_only=True)
class Question:
    """A question: how its plain description is read, and how what was read is answered.

    `read` raises `BadDescription` naming the field at fault; `answer` may raise that too, and
    `NotCovered` where the code gives no value.
    """

    key: str
    title: str
    read: Callable[[Mapping[str, Any]], Any]
    answer: Callable[[Any, Edition], Result]
