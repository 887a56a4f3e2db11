"""How is the private PostgreSQL made, started and stopped?"""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from signal import SIGINT

import psycopg

from contractor.local.accounts import Account, Unavailable, account
from contractor.local.addresses import DATABASE, PORT, private_folder
from contractor.local.processes import Child, start
from contractor.local.programs import Programs, choose, within_reach

LEAVING_SECONDS = 10
FAST = ("fsync=off", "full_page_writes=off", "synchronous_commit=off")


def serve(*, data: Path, sockets: Path, logs: Path, fast: bool = False) -> Child:
    """Start the server on its data folder, made first if need be, and wait until it answers.

    `fast` gives up surviving a power cut: for tests only.
    """
    runs_as = account()
    programs = within_reach(choose(data), runs_as)
    if not (data / "PG_VERSION").exists():
        _make(programs, runs_as, data, ["--no-sync"] if fast else [])
    runs_as.takes(data)
    _clear_leftovers(data, private_folder(sockets))
    options = [
        "listen_addresses=",
        f"port={PORT}",
        f"unix_socket_directories={sockets}",
        *(FAST if fast else ()),
    ]
    child = start(
        "postgres",
        runs_as.server(
            programs.folder / "postgres",
            *("-D", data),
            *(word for option in options for word in ("-c", option)),
            stop_signal=SIGINT,
        ),
        logs=logs,
        stop_signal=SIGINT,  # "fast": roll back what is open, write everything, leave
        patience=20,
    )
    _wait_and_create(child, sockets)
    return child


def _make(programs: Programs, runs_as: Account, data: Path, options: list[str]) -> None:
    draft = data.with_name(f"{data.name}.draft")
    shutil.rmtree(draft, ignore_errors=True)
    draft.mkdir(mode=0o700, parents=True)
    os.chown(draft, runs_as.owner, -1)
    made = subprocess.run(
        runs_as.command(
            programs.folder / "initdb",
            *("-D", draft, "-U", DATABASE, "--auth=trust", "--encoding=UTF8"),
            *_locale(programs.major),
            *options,
        ),
        capture_output=True,
        text=True,
    )
    if made.returncode:
        raise Unavailable(f"PostgreSQL could not make its data folder:\n{made.stderr.strip()}")
    draft.rename(data)  # whole or not at all: an interrupted first start is simply repeated


def _locale(major: int) -> tuple[str, ...]:
    if major >= 17:  # PostgreSQL's own: the same order of names on every machine
        return ("--locale=C", "--locale-provider=builtin", "--builtin-locale=C.UTF-8")
    return ("--locale=en_US.UTF-8",) if sys.platform == "darwin" else ("--locale=C.UTF-8",)


def _clear_leftovers(data: Path, sockets: Path) -> None:
    """Remove what a crash left, once no server runs on the data any more."""
    lock = data / "postmaster.pid"
    patience = time.monotonic() + LEAVING_SECONDS  # one told to stop may still be writing
    while lock.exists() and _runs_on(data, lock.read_text().partition("\n")[0]):
        if time.monotonic() > patience:
            raise Unavailable(f"A PostgreSQL server already runs on {data}: stop it first.")
        time.sleep(0.1)
    for left in (lock, *sockets.glob(".s.PGSQL.*")):
        left.unlink(missing_ok=True)


def _runs_on(data: Path, process: str) -> bool:
    """Say whether a process is a server on this data, and not just one with a reused number."""
    if Path("/proc/self").exists():
        try:
            return Path(f"/proc/{process}/cwd").samefile(data)
        except OSError:
            return False
    listed = subprocess.run(["ps", "-o", "command=", "-p", process], capture_output=True)
    return bytes(data) in listed.stdout


def _wait_and_create(child: Child, sockets: Path) -> None:
    where = f"host={sockets} port={PORT} user={DATABASE} dbname=postgres"
    patience = time.monotonic() + 60  # after a crash it first replays its log
    while True:
        try:
            with psycopg.connect(where, autocommit=True) as connection:
                made = connection.execute(
                    "SELECT 1 FROM pg_database WHERE datname = %s", [DATABASE]
                ).fetchone()
                if not made:
                    connection.execute(f"CREATE DATABASE {DATABASE}")
                return
        except psycopg.OperationalError:
            if child.exit_code is not None or time.monotonic() > patience:
                child.stop()
                raise Unavailable(f"PostgreSQL did not start:\n{child.last_lines()}") from None
        time.sleep(0.02)
