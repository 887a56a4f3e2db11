"""Reads the mails a local run has caught: which there are, and what is in one."""

import re
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from email import message_from_binary_file, policy
from email.message import EmailMessage
from email.parser import BytesHeaderParser
from pathlib import Path

SHOWN = 200
NAME = re.compile(r"\d{8}-\d{6}-\d{6}")
SHOWN_HEADERS = {
    "From": "From",
    "To": "To",
    "Cc": "Copy to",
    "Reply-To": "Answers to",
    "Date": "Written",
    "X-Delivered-To": "Would reach",
    "List-Unsubscribe": "Way out",
}


@dataclass(frozen=True)
class Mail:
    """One caught mail."""

    name: str
    message: EmailMessage

    @property
    def at(self) -> datetime:
        return datetime.strptime(self.name, "%Y%m%d-%H%M%S-%f").replace(tzinfo=UTC)

    @property
    def subject(self) -> str:
        return str(self.message["Subject"] or "(no subject)")

    @property
    def to(self) -> str:
        return str(self.message["To"] or self.message["X-Delivered-To"] or "")

    def headers(self) -> Iterator[tuple[str, str]]:
        """Yield what the headers say, each under a plain name."""
        for name, plain in SHOWN_HEADERS.items():
            for value in self.message.get_all(name, []):
                yield plain, str(value)

    def text(self) -> str:
        part = self.message.get_body(("plain",))
        return part.get_content() if part else ""

    def html(self) -> str:
        """Return the HTML part with its own pictures put in, or nothing."""
        part = self.message.get_body(("html",))
        page = part.get_content() if part else ""
        for picture in self.message.walk():
            identity = str(picture["Content-ID"] or "").strip("<>")
            if identity and picture.get_content_maintype() == "image":
                data = b64encode(_bytes(picture)).decode()
                page = page.replace(
                    f"cid:{identity}", f"data:{picture.get_content_type()};base64,{data}"
                )
        return page

    def attachments(self) -> list[tuple[str, bytes]]:
        """Return the files that came with it."""
        return [
            (part.get_filename() or f"part-{number}", _bytes(part))
            for number, part in enumerate(self.message.iter_attachments(), 1)
        ]


def _bytes(part: EmailMessage) -> bytes:
    content = part.get_payload(decode=True)
    return content if isinstance(content, bytes) else part.as_bytes()


def newest(folder: Path) -> list[Mail]:
    """Return the newest mails by their headers alone, newest first."""
    parser = BytesHeaderParser(policy=policy.default)
    mails = []
    for path in sorted(folder.glob("*.eml"), reverse=True)[:SHOWN]:
        if NAME.fullmatch(path.stem):
            with path.open("rb") as file:
                mails.append(Mail(path.stem, parser.parse(file)))
    return mails


def find(folder: Path, name: str) -> Mail | None:
    """Return a mail by its name, None if there is none such."""
    path = folder / f"{name}.eml"
    if not NAME.fullmatch(name) or not path.is_file():
        return None
    with path.open("rb") as file:
        return Mail(name, message_from_binary_file(file, policy=policy.default))
