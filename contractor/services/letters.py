"""Mail people the way to set a password: owed as a row, sent by a worker."""

from __future__ import annotations

import datetime as dt
import logging
import uuid

from django.conf import settings
from django.contrib.auth.tokens import default_token_generator
from django.core.mail import EmailMessage
from django.db import transaction
from django.db.models import F, Q
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import translation
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode

from contractor import queries
from contractor.models import Firm, PasswordLetter, Person

TRIES, AGAIN_AFTER = 5, dt.timedelta(minutes=2)
log = logging.getLogger(__name__)


@transaction.atomic
def owe_letter(*, email: str, why: PasswordLetter.Why, now: dt.datetime) -> None:
    """Owe a mail to the address, known here or not."""
    PasswordLetter.objects.create(email=email.strip().lower(), why=why, asked_at=now)


def send_letters(*, now: dt.datetime) -> int:
    """Send what is owed; one that fails is tried again later and stops no other.

    Two workers never take the same letter within two minutes; should one die after sending,
    the letter goes out twice, which harms nobody.
    """
    sent = 0
    for key in _owed(now).values_list("pk", flat=True)[:50]:
        letter = _claim(key, now)
        if letter is None:
            continue
        try:
            sent += _send(letter)
        except OSError:  # the mail server is away or says no
            log.exception("letter %s not sent", key)
            continue
        PasswordLetter.objects.filter(pk=key).update(done_at=now)
    return sent


def _owed(now: dt.datetime):  # type: ignore[no-untyped-def]
    rested = Q(tried_at__isnull=True) | Q(tried_at__lte=now - AGAIN_AFTER)
    return PasswordLetter.objects.filter(rested, done_at__isnull=True, tries__lt=TRIES)


def _claim(key: uuid.UUID, now: dt.datetime) -> PasswordLetter | None:
    taken = _owed(now).filter(pk=key).update(tried_at=now, tries=F("tries") + 1)
    return PasswordLetter.objects.get(pk=key) if taken else None


def _send(letter: PasswordLetter) -> int:
    """Write to the person with this address; a stranger's address gets nothing."""
    person = Person.objects.filter(email__iexact=letter.email, is_active=True).first()
    if person is None:
        return 0
    firm = queries.firm() or Firm()
    with translation.override(firm.locale):
        context = {"person": person, "firm": firm, "link": password_link(person), "letter": letter}
        subject = render_to_string("contractor/mail/password_subject.txt", context)
        body = render_to_string("contractor/mail/password.txt", context)
    return EmailMessage(
        subject=" ".join(subject.split()),
        body=body,
        to=[person.email],
        reply_to=[firm.email] if firm.email else None,
        headers={"Auto-Submitted": "auto-generated"},
    ).send()


def password_link(person: Person) -> str:
    """Where the person sets a password; good once, and for `PASSWORD_RESET_TIMEOUT`."""
    key = urlsafe_base64_encode(force_bytes(person.pk))
    token = default_token_generator.make_token(person)
    path = reverse("password-set", kwargs={"uidb64": key, "token": token})
    return f"{settings.SITE_URL}{path}"
