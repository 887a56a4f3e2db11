"""How is a letter put on paper: once as plain text, once as a page, from the same words?"""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass

from django.conf import settings
from django.core import signing
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import translation
from django.utils.formats import date_format, time_format
from django.utils.translation import gettext as _

from contractor.models import Firm, Site
from followups.queries.timing import Told


@dataclass(frozen=True, kw_only=True)
class Letter:
    """The words of one message. `marks` are the answers to choose from, `button` the one thing
    to open; `stop_url` is set on letters that may be refused."""

    subject: str
    greeting: str
    lines: tuple[str, ...]
    facts: tuple[tuple[str, str], ...] = ()
    quote: str = ""
    button: tuple[str, str] | None = None
    marks: tuple[tuple[str, str], ...] = ()
    cautions: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    stop_url: str = ""


@dataclass(frozen=True)
class Words:
    subject: str
    text: str
    html: str


def write(letter: Letter, *, firm: Firm) -> Words:
    """The letter as it will be sent; it is stored so and never rendered again."""
    context = {"letter": letter, "firm": firm}
    with translation.override(firm.locale):
        text = render_to_string("followups/mail/letter.txt", context)
        html = render_to_string("followups/mail/letter.html", context)
    return Words(" ".join(letter.subject.split())[:200], text.strip() + "\n", html)


def address(name: str, *parts: object) -> str:
    """A full address of ours; the host comes from settings, never from a request."""
    return f"{settings.SITE_URL}{reverse(name, args=parts)}"


def stop_address(message_id: uuid.UUID) -> str:
    return address("stop", stop_signer().sign(message_id.hex))


def stop_signer() -> signing.Signer:
    """Signs the way to stop, which opens without sign-in and never runs out."""
    return signing.Signer(salt="followups.stop", sep=".")


def greeting(name: str) -> str:
    return _("Dear %(name)s,") % {"name": name}


def place(site: Site) -> str:
    return f"{site.street}, {site.city}"


def when(told: Told, site: Site) -> str:
    """A day and an hour as the site's clock shows them."""
    start, end = told
    local = start.astimezone(site.zone)
    if end is None:
        return _("%(day)s, about %(time)s") % {"day": day(local), "time": _clock(local)}
    return _("%(day)s, between %(start)s and %(end)s") % {
        "day": day(local),
        "start": _clock(local),
        "end": _clock(end.astimezone(site.zone)),
    }


def day(local: dt.datetime) -> str:
    return date_format(local, _("l, F j"), use_l10n=False)


def _clock(local: dt.datetime) -> str:
    return time_format(local.time(), "TIME_FORMAT")
