"""Which questions about a load, a conductor, a fault or a panel can be answered here?

One registry for everything that is calculated: a worked example, the API and a saved calculation
all give a key, a plain description and an edition, and get a `Result` that shows its working.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from panels.rules import description, metered, methods
from panels.rules.balance.question import QUESTION as BALANCE
from panels.rules.check.busbar import QUESTION as BUSBAR
from panels.rules.check.question import QUESTION as CHECK
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.fault.answer import QUESTION as FAULT
from panels.rules.feeders.answer import QUESTION as FEEDERS
from panels.rules.fit import question as fit
from panels.rules.question import Question
from panels.rules.readings.question import QUESTION as MEASUREMENT
from panels.rules.shop import method as shop
from panels.rules.standby.answer import OUTAGE
from panels.rules.standby.size_answer import SIZING
from panels.rules.wire.questions import QUESTIONS as WIRE
from panels.rules.working import Result


def _of_method(key: str, title: str) -> Question:
    def answer(premises: Any, edition: Edition) -> Result:
        return methods.calculate(key, premises, edition)

    return Question(key=key, title=title, read=description.from_plain, answer=answer)


LOADS: dict[str, Question] = {
    key: _of_method(key, method.title) for key, method in (methods.METHODS | methods.PARTS).items()
} | {shop.KEY: shop.QUESTION, metered.KEY: metered.QUESTION}

# Every other question is one line here: the module that answers it holds its `Question`.
QUESTIONS: dict[str, Question] = LOADS | {
    asked.key: asked
    for asked in (
        fit.QUESTION,
        OUTAGE,
        SIZING,
        FEEDERS,
        FAULT,
        BALANCE,
        MEASUREMENT,
        CHECK,
        BUSBAR,
        *WIRE,
    )
}


def question(key: str) -> Question:
    """The question of that key. Raises `BadDescription` naming those there are."""
    if key not in QUESTIONS:
        raise BadDescription("method", f"{key!r} is not known. Choose {', '.join(QUESTIONS)}.")
    return QUESTIONS[key]


def answer(key: str, plain: Mapping[str, Any], edition: Edition) -> Result:
    """The plain description worked through by that question and edition."""
    asked = question(key)
    return asked.answer(asked.read(plain), edition)
