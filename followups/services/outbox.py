"""Send what is due, once: claim a row, hand it over, and record what became of it.

Every step is its own short transaction, decided by the row's state and the claimer's lease;
the network is spoken to between them. Whoever dies in between leaves a row that the next sweep
finds: due again when nothing was handed over, otherwise shown to the office, never sent blindly
a second time.
"""

from __future__ import annotations

import datetime as dt
import logging
from email.utils import formataddr

from django.conf import settings
from django.core.mail import EmailMultiAlternatives
from django.db import transaction
from django.utils.translation import gettext as _

from followups.cadence import rules
from followups.cadence.decide import Verdict, decide
from followups.cadence.words import Kind, State
from followups.models import Message
from followups.queries import outbox, timing
from followups.senders import Fate, Sent
from followups.services import check_ins, letters
from followups.services.reasons import sentence

LEASE = dt.timedelta(minutes=5)  # several times what EMAIL_TIMEOUT allows one mail
WHY_LENGTH = 300

log = logging.getLogger(__name__)


def claim(*, now: dt.datetime, owner: str, limit: int = 1) -> list[Message]:
    """Up to `limit` due messages, leased to `owner` (a name used for this claim alone).

    Those that turn out not to be wanted now are settled on the way: skipped with a reason, too
    late, or put off to the next decent hour. Another sweep's rows are passed over, not waited for.
    """
    claimed: list[Message] = []
    while len(claimed) < limit:
        with transaction.atomic():
            message = outbox.due(now).select_for_update(skip_locked=True, of=("self",)).first()
            if message is None:
                break
            if _claimed(message, now=now, owner=owner):
                claimed.append(message)
    return claimed


def _claimed(message: Message, *, now: dt.datetime, owner: str) -> bool:
    try:
        with transaction.atomic():
            verdict = decide(outbox.facts(message), now=now)
    except Exception as error:  # one unreadable row must not stand in the way of all others
        log.exception("message %s cannot be decided", message.pk)
        message.state, message.why = State.FAILED, repr(error)[:WHY_LENGTH]
        message.save(update_fields=["state", "why"])
        return False
    if verdict.state is State.SENDING:
        _lease(message, now=now, owner=owner)
        return True
    _set_aside(message, verdict)
    return False


def _lease(message: Message, *, now: dt.datetime, owner: str) -> None:
    message.state = State.SENDING
    message.to = outbox.current_address(message)
    message.lease_owner, message.lease_until = owner, now + LEASE
    message.handed_at = None
    message.attempts += 1
    message.save(
        update_fields=["state", "to", "lease_owner", "lease_until", "handed_at", "attempts"]
    )


def _set_aside(message: Message, verdict: Verdict) -> None:
    message.state = verdict.state
    message.not_before = verdict.until or message.not_before
    if verdict.reason is not None:
        message.why = sentence(verdict.reason)
    message.save(update_fields=["state", "not_before", "why"])


def hand_over(message: Message, *, now: dt.datetime) -> bool:
    """Note that the words leave now. False when the lease is no longer ours: then stop."""
    mine = Message.objects.filter(
        pk=message.pk, state=State.SENDING, lease_owner=message.lease_owner, lease_until__gt=now
    )
    return bool(mine.update(handed_at=now))


def letter(message: Message) -> EmailMultiAlternatives:
    """The mail as stored, with the Message-ID it always had (RFC 5322, 3.6.4)."""
    firm = timing.the_firm()
    headers = {"Message-ID": message.message_id}
    if rules.RULES[Kind(message.kind)].optional:  # RFC 8058, 3.1
        headers["List-Unsubscribe"] = f"<{letters.stop_address(message.pk)}>"
        headers["List-Unsubscribe-Post"] = "List-Unsubscribe=One-Click"
    mail = EmailMultiAlternatives(
        subject=message.subject,
        body=message.body_text,
        from_email=formataddr((firm.name, settings.DEFAULT_FROM_EMAIL)),
        to=[message.to],
        reply_to=[firm.email] if firm.email else None,
        headers=headers,
    )
    if message.body_html:
        mail.attach_alternative(message.body_html, "text/html")
    return mail


@transaction.atomic
def settle(message: Message, *, sent: Sent, now: dt.datetime) -> None:
    """Record what the mail server said, if the row is still ours to write.

    An answer that comes after the lease ran out still decides a row shown as unsure; when a
    person has decided it in the meantime, the answer is noted and changes nothing else.
    """
    row = Message.objects.select_for_update().get(pk=message.pk)
    ours = row.lease_owner == message.lease_owner and row.state in (State.SENDING, State.UNSURE)
    if not ours:
        if sent.fate is Fate.TAKEN:
            words = _("An earlier try was taken by the mail server too: they may have it twice.")
            Message.objects.filter(pk=row.pk).update(why=words)
        return
    _OUTCOMES[sent.fate](row, sent.said, now)


def _taken(row: Message, said: str, now: dt.datetime) -> None:
    row.state, row.sent_at, row.why = State.SENT, now, ""
    row.save(update_fields=["state", "sent_at", "why"])
    check_ins.owe_reminder(check_in=row, now=now)


def _later(row: Message, said: str, now: dt.datetime) -> None:
    wait = rules.wait_after(row.attempts)
    if wait is None:
        _never(row, said, now)
        return
    row.state, row.not_before, row.why = State.DUE, now + wait, said[:WHY_LENGTH]
    row.save(update_fields=["state", "not_before", "why"])


def _never(row: Message, said: str, now: dt.datetime) -> None:
    row.state, row.why = State.FAILED, said[:WHY_LENGTH]
    row.save(update_fields=["state", "why"])


def _unknown(row: Message, said: str, now: dt.datetime) -> None:
    row.state = State.UNSURE
    row.why = _("The line to the mail server broke while it was sent: %(said)s") % {"said": said}
    row.why = row.why[:WHY_LENGTH]
    row.save(update_fields=["state", "why"])


_OUTCOMES = {
    Fate.TAKEN: _taken,
    Fate.LATER: _later,
    Fate.NEVER: _never,
    Fate.UNKNOWN: _unknown,
}


@transaction.atomic
def find_abandoned(*, now: dt.datetime) -> int:
    """Leases that ran out: a person decides where something may have left; otherwise it is due
    again, until it has stopped the program too often.
    """
    abandoned = outbox.leases_run_out(now).select_for_update(skip_locked=True)
    for message in abandoned:
        if message.handed_at is not None:
            message.state = State.UNSURE
            message.why = _("The program stopped while this was being sent. It may have arrived.")
        elif message.attempts >= rules.SOFT_TRIES:
            message.state = State.FAILED
            message.why = _("The program stopped each time it tried to send this.")
        else:
            message.state = State.DUE
        message.save(update_fields=["state", "why"])
    return len(abandoned)


@transaction.atomic
def hold_all() -> int:
    """Nothing goes out until a person releases it: for the hour after a restore, when rows say
    `due` or `being sent` that have long gone out.
    """
    Message.objects.filter(state=State.SENDING).update(
        state=State.UNSURE, why=_("Held back while it was being sent. It may have arrived.")
    )
    return Message.objects.filter(state=State.DUE).update(state=State.HELD)


def release_all() -> int:
    return Message.objects.filter(state=State.HELD).update(state=State.DUE, why="")
