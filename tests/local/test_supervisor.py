"""Does a whole run start, refuse a second one, watch its pieces, and stop in order?"""

import http.client
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest

from contractor.local import addresses
from tests import prepared
from tests.local.conftest import on_linux

PIECES = {
    "postgres": "bin/postgres",
    "valkey": "valkey-server",
    "mail": "contractor.local.mail",
    "web": "gunicorn",
    "worker": "\0worker\0",
    "clock": "\0beat\0",
}
REPLACED = ("DATABASE_URL", "REDIS_URL", "EMAIL_URL")


class Started:
    """A run in a folder of its own, as `make run` starts it."""

    def __init__(self, folder: Path, **env: str) -> None:
        outside = {name: value for name, value in os.environ.items() if name not in REPLACED}
        self.env = outside | {"LOCAL_DIR": str(folder), "DEMO": "0", "PYTHONUNBUFFERED": "1"} | env
        self.process = self.python("contractor.local")
        assert self.process.stdout
        self.said = ""
        for line in self.process.stdout:
            self.said += line
            if "Ctrl-C stops everything" in line:
                return
        pytest.fail(f"the run did not start:\n{self.said}")

    def python(self, module: str) -> "subprocess.Popen[str]":
        return subprocess.Popen(
            [sys.executable, "-m", module],
            cwd=addresses.CHECKOUT,
            env=self.env,
            text=True,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )

    def rest(self, seconds: float = 60) -> str:
        """Return what it says from here to its end."""
        return self.process.communicate(timeout=seconds)[0]

    def address(self, name: str) -> str:
        return re.search(rf"{name} +(http://\S+)/", self.said)[1]

    def sockets(self) -> Path:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("LOCAL_DIR", self.env["LOCAL_DIR"])
            return addresses.sockets()

    def children(self) -> Mapping[str, int]:
        """Return the processes it has started, by what they are."""
        pid = self.process.pid
        while True:
            numbers = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
            found = {self.piece(number): int(number) for number in numbers}
            if "" not in found:  # one that is being started still looks like its parent
                return found
            time.sleep(0.05)

    def piece(self, number: str) -> str:
        """Return the name of the piece that a process is, nothing if it is none yet."""
        command = Path(f"/proc/{number}/cmdline").read_bytes().decode()
        return next((name for name, mark in PIECES.items() if mark in command), "")


def status(url: str) -> int:
    connection = http.client.HTTPConnection(urlsplit(url).netloc, timeout=10)
    connection.request("GET", urlsplit(url).path)
    return connection.getresponse().status


@pytest.fixture
def stopped_at_the_end() -> Iterator[list[Started]]:
    runs: list[Started] = []
    yield runs
    for run in runs:
        if run.process.poll() is None:
            run.process.terminate()
        run.process.communicate(timeout=60)


@pytest.fixture
def own_database() -> Iterator[str]:
    """A migrated database beside the tests' own, as a firm's server would hold it."""
    place = Path(os.environ["LOCAL_DIR"])
    name = f"launcher_{os.environ.get('PYTEST_XDIST_WORKER', 'only')}"
    server = f"host={place} port=5432 user=contractor dbname=postgres"
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE {addresses.DATABASE}")
        yield addresses.postgres_url(place, name)
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@on_linux
def test_a_run_refuses_a_second_one_and_ends_when_a_piece_dies(folder, stopped_at_the_end):
    prepared.fill(folder / "postgres", folder)
    run = Started(folder)
    stopped_at_the_end.append(run)
    assert status(f"{run.address('Open')}/healthz") in (200, 503)
    assert status(f"{run.address('Mails')}/") == 200
    assert set(run.children()) == set(PIECES)

    for module in ("contractor.local", "contractor.local.fresh"):
        second = run.python(module)
        said = second.communicate(timeout=60)[0]
        assert second.returncode == 1
        assert f"running at {run.address('Open')}/" in said
    assert status(f"{run.address('Open')}/healthz") in (200, 503)

    worker_log = folder / "log" / "worker.log"
    while "ready." not in worker_log.read_text():
        time.sleep(0.1)
    os.kill(run.children()["worker"], signal.SIGKILL)
    said = run.rest()
    assert run.process.returncode == 1
    assert not run.sockets().exists()
    assert "worker ended by itself (exit code -9)" in said
    assert "ready." in said  # the end of the worker's own log
    assert re.findall(r"(\w+) stopped", said) == list(reversed(PIECES))


@on_linux
def test_servers_named_by_urls_replace_the_private_ones(
    folder, stopped_at_the_end, own_database, smtp
):
    replacing = {"REDIS_URL": os.environ["REDIS_URL"], "EMAIL_URL": smtp.url}
    run = Started(folder, DATABASE_URL=own_database, **replacing)
    stopped_at_the_end.append(run)
    assert "Mails" not in run.said
    assert set(run.children()) == {"web", "worker", "clock"}
    assert not (folder / "postgres").exists()

    children = run.children().values()
    run.process.send_signal(signal.SIGINT)
    assert re.findall(r"(\w+) stopped", run.rest()) == ["clock", "worker", "web"]
    assert run.process.returncode == 0
    assert not [child for child in children if Path(f"/proc/{child}").exists()]


def test_a_database_that_does_not_answer_ends_the_start_with_its_words(folder):
    nowhere = addresses.postgres_url(folder / "nowhere")
    env = {"DATABASE_URL": nowhere, "REDIS_URL": os.environ["REDIS_URL"], "EMAIL_URL": "smtp://x"}
    with pytest.raises(pytest.fail.Exception, match="prepare ended by itself") as failed:
        Started(folder, **env)
    assert "OperationalError" in str(failed.value)


def test_a_wrong_port_is_said_before_anything_starts(folder):
    with pytest.raises(pytest.fail.Exception, match="PORT must be a number"):
        Started(folder, PORT="none")
    assert not (folder / "log").exists()
