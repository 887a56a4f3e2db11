"""Starts the pieces of a local run, watches them, and stops them in order."""

import http.client
import os
import signal
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from threading import Event
from types import FrameType

from contractor.local import addresses, pieces
from contractor.local.accounts import Unavailable
from contractor.local.claim import AlreadyRunning, claimed
from contractor.local.pieces import Layout
from contractor.local.processes import Child

WATCH_SECONDS = 0.1
STOPPING = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)


class Died(Exception):
    """A piece ended that should have gone on."""

    def __init__(self, child: Child) -> None:
        self.child = child


class Asked(Exception):
    """Somebody wants the run to stop."""


@dataclass
class Run:
    """The pieces that are running, in the order of their start."""

    layout: Layout
    asked: Event
    children: list[Child] = field(default_factory=list)

    def start(self) -> None:
        """Start everything and return when the first page can be asked for."""
        self._add(pieces.servers(self.layout))
        # The program loads while the database is brought up to date; both take a while, and
        # nobody is told the address before both are done.
        self._add([pieces.web(self.layout)])
        preparing = pieces.prepare(self.layout)
        self.children.append(preparing)
        self._watch(until=lambda: preparing.exit_code == 0)
        self.children.remove(preparing)
        self._watch(until=lambda: answers(self.layout.web_port))
        self._add(pieces.background(self.layout))

    def go_on(self) -> None:
        """Watch until somebody asks to stop."""
        self._watch(until=lambda: False)

    def stop(self) -> None:
        """Stop the pieces, the last one started first, each within its own time."""
        while self.children:
            child = self.children.pop()
            child.stop()
            print(f"  {child.name} stopped")
        with suppress(OSError):  # not there, or somebody's file is in it
            self.layout.sockets.rmdir()

    def _add(self, started: Iterable[Child]) -> None:
        for child in started:
            self.children.append(child)
            self._look()

    def _watch(self, until: Callable[[], bool]) -> None:
        while not until():
            self._look()
            self.asked.wait(WATCH_SECONDS)

    def _look(self) -> None:
        if self.asked.is_set():
            raise Asked
        for child in self.children:
            if child.exit_code is not None and not (
                child.name == "prepare" and child.exit_code == 0
            ):
                raise Died(child)


def answers(port: int) -> bool:
    """Say whether the web server answers, whatever it says."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=2)
    try:
        connection.request("GET", "/healthz")
        connection.getresponse()
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()
    return True


def welcome(layout: Layout, seconds: float) -> str:
    """Say where everything is, and as whom to sign in."""
    lines = ["", f"Ready after {seconds:.1f} s.", "", f"  Open   {layout.site_url}/"]
    if not os.environ.get("EMAIL_URL"):
        lines.append(f"  Mails  {layout.mail_page_url}/   (caught here, sent to nobody)")
    sign_ins = addresses.CHECKOUT / "fixtures" / "sign-ins.txt"
    demo = layout.folder / "demo"
    if demo.exists() and demo.read_text() == "loaded" and sign_ins.exists():
        lines += ["", sign_ins.read_text().rstrip()]
    return "\n".join([*lines, "", f"Logs are in {layout.logs}. Ctrl-C stops everything.", ""])


def main() -> int:
    """Run until asked to stop; return the exit code."""
    asked = Event()

    def ask(_number: int, _frame: FrameType | None) -> None:
        asked.set()

    for number in STOPPING:
        signal.signal(number, ask)
    began = time.monotonic()
    try:
        with claimed():
            return _run(Run(pieces.layout(), asked), began)
    except AlreadyRunning as other:
        print(f"Already running at {other}/ - stop that run first (Ctrl-C in its window).")
    except (Unavailable, PermissionError) as trouble:
        print(trouble)
    return 1


def _run(run: Run, began: float) -> int:
    try:
        run.start()
        print(welcome(run.layout, time.monotonic() - began), flush=True)
        run.go_on()
    except Asked:
        print("\nStopping ...", flush=True)
    except Died as death:
        child = death.child
        print(f"\n{child.name} ended by itself (exit code {child.exit_code}). Its last lines, from")
        print(f"{child.log}:\n\n{child.last_lines()}", flush=True)
        return 1
    finally:
        run.stop()
    return 0
