"""Catches every mail of a local run, keeps it as a file, and sends nothing on."""

import argparse
import signal
from datetime import UTC, datetime
from email.utils import getaddresses
from pathlib import Path
from threading import Thread
from types import FrameType

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session

from contractor.local.mail_page import MailPage, listen

ENVELOPE = "X-Delivered-To"  # whom it would have reached, blind copies too


class Catcher:
    """Writes each mail into a folder, whole or not at all."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:
        self.keep(envelope.content or b"", envelope.rcpt_tos)
        return "250 kept, not sent"

    def keep(self, content: str | bytes, recipients: list[str]) -> Path:
        """Write a mail to a file named by the moment, so that names sort by time."""
        content = content.encode() if isinstance(content, str) else content
        reached = ", ".join(address for _, address in getaddresses(recipients))
        name = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
        draft = self.folder / f"{name}.draft"
        draft.write_bytes(f"{ENVELOPE}: {reached}\r\n".encode() + content)
        return draft.rename(self.folder / f"{name}.eml")


def main() -> None:
    """Serve SMTP and the page of mails until told to stop."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--smtp-port", type=int, required=True)
    arguments.add_argument("--page-port", type=int, required=True)
    wanted = arguments.parse_args()
    wanted.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    catcher = Catcher(wanted.folder)
    controller = Controller(
        catcher, hostname="127.0.0.1", port=wanted.smtp_port, enable_SMTPUTF8=True
    )
    controller.start()
    page = listen(MailPage(wanted.folder), wanted.page_port)

    def stop(_number: int, _frame: FrameType | None) -> None:
        Thread(target=page.shutdown).start()  # it waits for serve_forever, which we are inside

    signal.signal(signal.SIGTERM, stop)
    page.serve_forever()
    controller.stop()


if __name__ == "__main__":
    main()
