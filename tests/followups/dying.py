"""A sending process that kills itself, without a chance to tidy up, at one step of one message.

Run as `python -m tests.followups.dying STEP NUMBER MOMENT`: the real sweep, by a moved clock.
"""

import os
import signal
import sys
from collections.abc import Callable
from datetime import datetime
from typing import Any

import django

STEPS = ("claiming", "claimed", "handed_over", "taken", "settling", "settled")


def is_step(step: str, sql: str, params: Any, *, done: bool) -> bool:
    """Whether this statement, about to run or just done, is the step."""
    said = [str(value) for value in params or ()]
    updates = sql.startswith('UPDATE "followups_message"')
    locks = "FOR UPDATE" in sql and "followups_message" in sql
    return {
        "claiming": updates and done and "sending" in said and '"lease_owner" =' in sql,
        "claimed": updates and not done and 'SET "handed_at"' in sql,
        "handed_over": updates and done and 'SET "handed_at"' in sql,
        "taken": locks and not done and "SKIP LOCKED" not in sql,
        "settling": updates and done and "sent" in said and '"sent_at" =' in sql,
        "settled": False,
    }[step]


class Death:
    """Comes with the n-th statement of its kind."""

    def __init__(self, step: str, number: int) -> None:
        self.step, self.number = step, number
        self.settled = False

    def __call__(
        self, execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any
    ) -> Any:
        if self.step == "settled" and self.settled and "SKIP LOCKED" in sql:
            self.count()
        if is_step(self.step, sql, params, done=False):
            self.count()
        result = execute(sql, params, many, context)
        self.settled = self.settled or is_step("settling", sql, params, done=True)
        if is_step(self.step, sql, params, done=True):
            self.count()
        return result

    def count(self) -> None:
        self.number -= 1
        self.settled = False
        if self.number == 0:
            os.kill(os.getpid(), signal.SIGKILL)


def main(step: str, number: str, moment: str) -> None:
    import time_machine
    from django.db import connection
    from django.utils import timezone

    from followups.services.sweep import send_due

    with time_machine.travel(datetime.fromisoformat(moment), tick=True):
        if step in STEPS:
            with connection.execute_wrapper(Death(step, int(number))):
                send_due(clock=timezone.now)
        else:
            send_due(clock=timezone.now)


if __name__ == "__main__":
    django.setup()
    main(*sys.argv[1:])
