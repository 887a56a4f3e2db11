"""Why was a message not sent, as a sentence the office can act on?"""

from __future__ import annotations

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from followups.cadence.words import Reason

SENTENCES: dict[Reason, Promise] = {
    Reason.NO_ADDRESS: _("No e-mail address is known. Call them, or add the address and send."),
    Reason.OPTED_OUT: _("They asked for no more such mails."),
    Reason.JOB_CANCELLED: _("The job was cancelled."),
    Reason.JOB_REOPENED: _("The job was opened again; closing it owes a new one."),
    Reason.ANSWERED: _("They have answered."),
    Reason.OTHER_TIME: _("The visit was moved or called off before this was sent."),
    Reason.PLANNED_AGAIN: _("The visit was planned again before this was sent."),
    Reason.TOO_LATE: _("It was no longer worth sending. Call them if it still matters."),
    Reason.NO_DECENT_HOUR: _("No decent hour is left before the visit. Call them."),
}


def sentence(reason: Reason) -> str:
    return str(SENTENCES[reason])
