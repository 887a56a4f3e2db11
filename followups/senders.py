"""How does a message leave the house, and what do we know of it afterwards?"""

from __future__ import annotations

import enum
from contextlib import suppress
from dataclasses import dataclass
from smtplib import (
    SMTPException,
    SMTPNotSupportedError,
    SMTPRecipientsRefused,
    SMTPResponseException,
)

from django.core.mail import EmailMultiAlternatives, get_connection


class Fate(enum.StrEnum):
    TAKEN = "taken"  # the mail server has it
    LATER = "later"  # it has not; another try may do (RFC 5321, 4.2.1: 4yz)
    NEVER = "never"  # it has not, and never will (5yz)
    UNKNOWN = "unknown"  # the line broke while the server had the words


@dataclass(frozen=True)
class Sent:
    fate: Fate
    said: str = ""


def mail(letter: EmailMultiAlternatives) -> Sent:
    """Hand one mail to the mail server. Says what became of it, raises nothing for SMTP's faults.

    Opening the line is a step of its own: whatever goes wrong there, nothing has left. After
    that a fault without an answer from the server may come after it took the mail, so the fate
    is unknown and a person decides.
    """
    line = get_connection()
    try:
        line.open()
    except (OSError, SMTPException) as error:
        return Sent(Fate.LATER, _said(error))
    try:
        line.send_messages([letter])
    except SMTPRecipientsRefused as error:
        code, words = next(iter(error.recipients.values()))
        return Sent(_by_code(code), f"{code} {words.decode(errors='replace')}")
    except SMTPResponseException as error:
        return Sent(_by_code(error.smtp_code), _said(error))
    except (SMTPNotSupportedError, ValueError) as error:
        return Sent(Fate.NEVER, _said(error))  # the address or a header cannot be written
    except (OSError, SMTPException) as error:
        return Sent(Fate.UNKNOWN, _said(error))
    finally:
        with suppress(Exception):  # the server has answered: what goodbye brings is no matter
            line.close()
    return Sent(Fate.TAKEN)


def _by_code(code: int) -> Fate:
    return Fate.LATER if 400 <= code < 500 else Fate.NEVER


def _said(error: Exception) -> str:
    if isinstance(error, SMTPResponseException):
        words = error.smtp_error
        text = words.decode(errors="replace") if isinstance(words, bytes) else str(words)
        return f"{error.smtp_code} {text}"
    return str(error) or type(error).__name__
