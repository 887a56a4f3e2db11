"""Starts, asks and stops the Celery workers of tests."""

import os
import select
import sys
import tempfile
import time
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from signal import SIGKILL

from redis import Redis

from contractor.local import addresses
from contractor.local.processes import Child, ends_with_parent, start


@dataclass
class Worker:
    """One real worker process and the pipe on which it reports."""

    child: Child
    reports: int
    lines: list[str] = field(default_factory=list)
    rest: bytes = b""

    def run(self, task: str, *args: object, seconds: float = 20) -> None:
        """Send a task to the queue and wait until the worker has done it well."""
        from contractor.celery import app

        sent = app.send_task(task, args)
        state = self.wait_for(sent.id, seconds)
        assert state == "SUCCESS", f"{task}: {state}\n{self.child.last_lines()}"
        broker = Redis.from_url(os.environ["REDIS_URL"])
        while broker.hlen("unacked"):  # the broker must hear of it too, or would send it again
            time.sleep(0.01)

    def wait_for(self, word: str, seconds: float) -> str:
        """Wait for a report that begins with a word; return what follows it."""
        patience = time.monotonic() + seconds
        while True:
            for line in self.lines:
                if line.split()[0] == word:
                    return line.partition(" ")[2]
            ready, _, _ = select.select([self.reports], [], [], patience - time.monotonic())
            heard = os.read(self.reports, 65536) if ready else b""
            assert heard, f"the worker did not report {word!r}:\n{self.child.last_lines()}"
            *lines, self.rest = (self.rest + heard).split(b"\n")
            self.lines += [line.decode() for line in lines]


@dataclass
class Workers:
    """The workers one test has started."""

    email_url: str
    running: list[Worker] = field(default_factory=list)

    def __call__(self, *, at: datetime | None = None) -> Worker:
        """Start a worker, by a clock that stands at `at` now and runs on from there."""
        from django.db import connection

        database = connection.settings_dict
        env = os.environ | {
            "DATABASE_URL": addresses.postgres_url(Path(database["HOST"]), database["NAME"]),
            "EMAIL_URL": self.email_url,
            "DJANGO_SETTINGS_MODULE": "contractor.settings",
        }
        reports, pipe = os.pipe()
        words = [sys.executable, "-m", "tests.worker", str(pipe), at.isoformat() if at else ""]
        logs = Path(tempfile.mkdtemp(dir=os.environ["LOCAL_DIR"]))
        command = [*ends_with_parent(), *words]
        child = start(
            "worker",
            command,
            logs=logs,
            env=env,
            cwd=addresses.CHECKOUT,
            keeps=(pipe,),
            stop_signal=SIGKILL,  # at once: what it was told to do is done
        )
        os.close(pipe)
        worker = Worker(child, reports)
        self.running.append(worker)
        worker.wait_for("ready", 30)
        return worker

    def stop(self) -> None:
        for worker in self.running:
            worker.child.stop()
            os.close(worker.reports)
        self.running.clear()
