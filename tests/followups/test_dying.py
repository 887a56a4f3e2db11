"""Processes die at every step of sending; nothing is sent twice, nothing is lost from sight."""

from __future__ import annotations

import datetime as dt
import os
import signal
import subprocess
import sys
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest
from aiosmtpd.smtp import SMTP, Envelope, Session
from django.db import connection
from django.utils import timezone

from contractor.local import addresses
from followups.cadence.words import State
from followups.models import Message
from followups.services import outbox
from tests.factories import followups as made
from tests.factories import jobs as planned
from tests.followups.dying import STEPS
from tests.mailbox import Mailbox

CHECKOUT = Path(__file__).resolve().parents[2]


@dataclass
class DeadlyMailbox(Mailbox):
    """Takes the mail, then kills the process that brought it, before it hears so."""

    victim: int = 0
    spare: int = 0  # how many mails go well before

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:
        answer = await super().handle_DATA(server, session, envelope)
        self.spare -= 1
        if self.victim and self.spare < 0:
            os.kill(self.victim, signal.SIGKILL)
            self.victim = 0
        return answer


@pytest.fixture
def deadly():  # type: ignore[no-untyped-def]
    mailbox = DeadlyMailbox()
    controller = mailbox.open()
    yield mailbox
    controller.stop()


def sending(mailbox: Mailbox, *words: str) -> subprocess.Popen[bytes]:
    database = connection.settings_dict
    env = os.environ | {
        "DATABASE_URL": addresses.postgres_url(Path(database["HOST"]), database["NAME"]),
        "EMAIL_URL": mailbox.url,
        "DJANGO_SETTINGS_MODULE": "contractor.settings",
    }
    return subprocess.Popen(
        [sys.executable, "-m", "tests.followups.dying", *words], cwd=CHECKOUT, env=env
    )


@pytest.mark.django_db(transaction=True)
def test_kill_at_every_step_sends_nothing_twice_and_loses_nothing(deadly: DeadlyMailbox) -> None:
    planned.firm()
    messages = {made.letter().message_id for _number in range(40)}
    now = timezone.now()
    for step in (*STEPS, "in_flight"):
        child = sending(deadly, step, "3", now.isoformat())
        if step == "in_flight":
            deadly.victim, deadly.spare = child.pid, 2
        assert child.wait(60) == -signal.SIGKILL, f"survived {step}"
        now += outbox.LEASE + dt.timedelta(minutes=1)
    assert sending(deadly, "live", "0", now.isoformat()).wait(60) == 0

    arrived = Counter(mail["Message-ID"] for mail in deadly.messages)
    assert max(arrived.values()) == 1
    states = dict(Message.objects.values_list("message_id", "state"))
    assert set(states.values()) <= {State.SENT, State.UNSURE}
    assert {name for name, state in states.items() if state == State.SENT} <= set(arrived)
    assert {name for name in messages if name not in arrived} <= {
        name for name, state in states.items() if state == State.UNSURE
    }
    # Dying before the words leave, or after they were settled, puts no work on the office.
    unsure = [name for name, state in states.items() if state == State.UNSURE]
    assert len(unsure) == len({"handed_over", "taken", "settling", "in_flight"})
