"""Mails as they arrive at a real SMTP server, and what people do with them."""

from __future__ import annotations

from email.message import EmailMessage
from urllib.parse import urlsplit

from tests.mailbox import Mailbox
from tests.stories.steps.firm import PASSWORD
from tests.stories.steps.papers import plain
from tests.stories.visitor import Visitor


def to(mailbox: Mailbox, address: str) -> list[EmailMessage]:
    return [mail for mail in mailbox.messages if mail["To"].endswith(address)]


def about(mailbox: Mailbox, address: str, subject: str) -> list[EmailMessage]:
    return [mail for mail in to(mailbox, address) if subject in mail["Subject"]]


def accept_invitation(mailbox: Mailbox, address: str) -> Visitor:
    """Open the link in the mail, set a password, and be signed in."""
    link = next(word for word in plain(to(mailbox, address)[-1]).split() if "/password/" in word)
    person = Visitor()
    page = person.open(urlsplit(link).path)
    page.press("Set it", {"New password": PASSWORD})
    person.sign_in(address, PASSWORD)
    return person
