"""What the office decides about a message: hold it, send it, say it went out, let it be."""

from __future__ import annotations

import datetime as dt

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from followups.cadence import rules
from followups.cadence.decide import decide
from followups.cadence.words import MOVES, Kind, State
from followups.models import Message
from followups.queries import outbox
from followups.services import check_ins
from followups.services.reasons import sentence


@recorded
def hold(*, message: Message, by: Person) -> Message:
    row = _locked(message, to=State.HELD)
    row.state = State.HELD
    row.why = _("Held back by %(person)s.") % {"person": by}
    row.save(update_fields=["state", "why"])
    return row


@recorded
def release(*, message: Message, by: Person) -> Message:
    """Due again at the time it had; if that has passed it goes with the next sweep."""
    row = _locked(message, to=State.DUE)
    row.state, row.why = State.DUE, ""
    row.save(update_fields=["state", "why"])
    return row


@recorded
def send_now(*, message: Message, by: Person, now: dt.datetime) -> Message:
    """Due at once, or again after a fault. What would not be sent anyway is refused with why,
    and quiet hours stay quiet: it then goes out at the next decent hour.
    """
    row = _locked(message, to=State.DUE)
    row.not_after = max(row.not_after or now, now + rules.RULES[Kind(row.kind)].good_for)
    if row.told_from:
        row.not_after = row.told_from
    verdict = decide(outbox.facts(row), now=now)
    if verdict.reason is not None:
        raise Refused("not_sendable", sentence(verdict.reason))
    row.state, row.why, row.attempts = State.DUE, "", 0
    row.not_before = verdict.until or now
    row.save(update_fields=["state", "why", "attempts", "not_before", "not_after"])
    return row


@recorded
def drop(*, message: Message, why: str, by: Person) -> Message:
    """Never send it; the reason is kept."""
    row = _locked(message, to=State.SKIPPED)
    row.state = State.SKIPPED
    row.why = _said(why, by)
    row.save(update_fields=["state", "why"])
    return row


@recorded
def mark_told(*, message: Message, how: str, by: Person, now: dt.datetime) -> Message:
    """They have it: it did arrive, or someone told them another way."""
    row = _locked(message, to=State.SENT)
    row.state, row.sent_at = State.SENT, now
    row.why = _said(how, by)
    row.save(update_fields=["state", "sent_at", "why"])
    check_ins.owe_reminder(check_in=row, now=now)
    return row


def _locked(message: Message, *, to: State) -> Message:
    row = Message.objects.select_for_update(of=("self",)).get(pk=message.pk)
    if to not in MOVES[State(row.state)]:
        raise Refused(
            "wrong_state",
            _("This message is already “%(state)s”. Look at the list again.")
            % {"state": row.get_state_display()},
        )
    return row


def _said(words: str, by: Person) -> str:
    if not words.strip():
        raise Invalid(
            "reason_missing",
            _("Say in a few words why, so the next person knows."),
            fields={"why": _("Say in a few words why, so the next person knows.")},
        )
    return _("%(words)s (%(person)s)") % {"words": words.strip()[:240], "person": by}
