"""A real Celery worker for tests, by a clock that may be moved; it reports down a pipe."""

import os
import sys
from datetime import datetime

import time_machine
from celery.signals import task_postrun, worker_ready
from django.db import connection
from django.utils import timezone

from contractor.celery import app


def main(pipe: int, at: str) -> None:
    def report(*words: str) -> None:
        os.write(pipe, f"{' '.join(words)}\n".encode())

    @worker_ready.connect(weak=False)
    def ready(**_: object) -> None:
        report("ready")

    @task_postrun.connect(weak=False)
    def done(task_id: str, state: str, **_: object) -> None:
        report(task_id, str(state))

    @app.task(name="tests.moment")
    def moment() -> None:
        """Report the time it is for the worker, and the database it works on."""
        report("moment", timezone.now().isoformat(), connection.settings_dict["NAME"])

    if at:
        time_machine.travel(datetime.fromisoformat(at), tick=True).start()
    app.worker_main(
        [
            *("worker", "--loglevel=INFO", "--concurrency=1"),
            *("--without-gossip", "--without-mingle", "--without-heartbeat"),
        ]
    )


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2])
