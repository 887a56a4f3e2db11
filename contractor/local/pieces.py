"""Which pieces does a local run have, with which commands and which environment?"""

import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from contractor.local import addresses, ports, postgres, valkey
from contractor.local.processes import Child, ends_with_parent, start

REPLACING = ("DATABASE_URL", "REDIS_URL", "EMAIL_URL", "LOCAL_DIR", "SITE_URL", "SECRET_KEY")
WEB_GOES_ON_SECONDS = 5


@dataclass(frozen=True)
class Layout:
    """Where this run keeps its things and on which ports it answers."""

    folder: Path
    sockets: Path
    web_port: int
    smtp_port: int
    mail_page_port: int

    @property
    def logs(self) -> Path:
        return self.folder / "log"

    @property
    def site_url(self) -> str:
        return f"http://127.0.0.1:{self.web_port}"

    @property
    def mail_page_url(self) -> str:
        return f"http://127.0.0.1:{self.mail_page_port}"


def layout() -> Layout:
    """Choose the ports and note the addresses for other shells of this checkout."""
    web = ports.web(os.environ.get("PORT", ""))
    smtp = ports.next_free(1025)
    page = ports.next_free(max(8025, web + 1) if web == 8025 else 8025)
    chosen = Layout(addresses.folder(), addresses.sockets(), web, smtp, page)
    addresses.note("site-url", chosen.site_url)
    addresses.note("email-url", f"smtp://127.0.0.1:{smtp}")
    return chosen


def servers(layout: Layout) -> Iterator[Child]:
    """Start what the program needs around it, except what an environment variable replaces."""
    if not os.environ.get("DATABASE_URL"):
        yield postgres.serve(
            data=layout.folder / "postgres", sockets=layout.sockets, logs=layout.logs
        )
    if not os.environ.get("REDIS_URL"):
        yield valkey.serve(data=layout.folder / "valkey", sockets=layout.sockets, logs=layout.logs)
    if not os.environ.get("EMAIL_URL"):
        words = ["contractor.local.mail", str(layout.folder / "mail")]
        ports = ["--smtp-port", str(layout.smtp_port), "--page-port", str(layout.mail_page_port)]
        yield _python("mail", *words, *ports, layout=layout, patience=3)


def prepare(layout: Layout) -> Child:
    """Start bringing the database up to date; it ends when that is done."""
    return _python("prepare", "contractor.local.prepare", layout=layout)


def web(layout: Layout) -> Child:
    """Start the web server; it answers once the program is loaded."""
    words = ["gunicorn", "contractor.wsgi:application", "--bind", f"127.0.0.1:{layout.web_port}"]
    words += ["--worker-class=gthread", "--workers=2", "--threads=4", "--preload"]
    words += [f"--graceful-timeout={WEB_GOES_ON_SECONDS}", "--no-control-socket"]
    return _python("web", *words, layout=layout, patience=WEB_GOES_ON_SECONDS + 3)


def background(layout: Layout) -> Iterator[Child]:
    """Start what works by itself: the worker, and the clock that wakes it."""
    worker = ["celery", "-A", "contractor", "worker", "--loglevel=INFO", "--concurrency=2"]
    worker += ["--without-gossip", "--without-mingle", "--without-heartbeat"]
    yield _python("worker", *worker, layout=layout, patience=10)
    clock = ["celery", "-A", "contractor", "beat", "--loglevel=INFO", "--pidfile="]
    clock += [f"--schedule={layout.folder / 'beat-schedule'}"]
    yield _python("clock", *clock, layout=layout, patience=5)


def _python(name: str, *words: str, layout: Layout, patience: float = 5) -> Child:
    command = [*ends_with_parent(), sys.executable, "-m", *words]
    said = {key: value for key, value in os.environ.items() if value or key not in REPLACING}
    environment = said | {"LOCAL_DIR": str(layout.folder), "PYTHONUNBUFFERED": "1"}
    return start(
        name,
        command,
        logs=layout.logs,
        env=environment,
        cwd=addresses.CHECKOUT,
        patience=patience,
    )
