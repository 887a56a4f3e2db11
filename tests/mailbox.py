"""A real SMTP server for tests: it takes mails on a free port and keeps them."""

from dataclasses import dataclass, field
from email import message_from_bytes, policy
from email.message import EmailMessage

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session


@dataclass
class Mailbox:
    """Takes every mail, unless `answer` holds an SMTP error such as "451 try again later"."""

    messages: list[EmailMessage] = field(default_factory=list)
    recipients: list[list[str]] = field(default_factory=list)
    answer: str = ""
    port: int = 0

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:
        if self.answer:
            return self.answer
        assert isinstance(envelope.content, bytes)
        self.messages.append(message_from_bytes(envelope.content, policy=policy.default))
        self.recipients.append(list(envelope.rcpt_tos))
        return "250 taken"

    def open(self) -> "FreePort":
        """Start listening; the controller returned stops it again."""
        controller = FreePort(self, hostname="127.0.0.1", port=0)
        controller.start()
        self.port = controller.port
        return controller

    @property
    def url(self) -> str:
        return f"smtp://127.0.0.1:{self.port}"


class FreePort(Controller):
    """Lets the system choose the port, which no other test can then have taken."""

    def _trigger_server(self) -> None:
        self.port = self.server.sockets[0].getsockname()[1]
        super()._trigger_server()
