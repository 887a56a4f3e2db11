"""One round of what is due: run by the clock, or by `manage.py send_due` without one."""

from __future__ import annotations

import datetime as dt
import logging
import os
import socket
import uuid
from collections.abc import Callable

from django.utils import translation

from followups import senders
from followups.models import Message
from followups.queries import timing
from followups.services import outbox

# A round ends well inside the task's time limit; what is left is still due in the next one.
AT_MOST = 500
TIME = dt.timedelta(minutes=2)

log = logging.getLogger(__name__)
Clock = Callable[[], dt.datetime]


def send_due(*, clock: Clock) -> int:
    """Send what is due, one by one, and say how many were handed to the mail server.

    One message at a time is claimed, so that it is decided on right before it leaves; a fault
    in one is logged and the next one is sent.
    """
    started = clock()
    sent = 0
    with translation.override(timing.the_firm().locale):
        outbox.find_abandoned(now=started)
        while sent < AT_MOST and clock() - started < TIME:
            claimed = outbox.claim(now=clock(), owner=_lease_name())
            if not claimed:
                break
            sent += sum(_deliver(message, clock) for message in claimed)
    return sent


def _deliver(message: Message, clock: Clock) -> bool:
    try:
        letter = outbox.letter(message)
        if not outbox.hand_over(message, now=clock()):
            return False
        outbox.settle(message, sent=senders.mail(letter), now=clock())
    except Exception:
        log.exception("message %s was not settled", message.pk)  # its lease will run out
        return False
    return True


def _lease_name() -> str:
    return f"{socket.gethostname()[:30]}:{os.getpid()}:{uuid.uuid4().hex[:8]}"
