"""How long do 100,000 stored homes take when an adoption changes, by two worker processes?

Run: python -m tests.bench.bench_recalculate [homes]. A private PostgreSQL and Valkey, set as
`make run` sets them, are filled by the database itself and thrown away at the end.
"""

from __future__ import annotations

import datetime as dt
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

HOMES = 100_000
KINDS = 200  # different homes; each is stored many times
PROCESSES = 2


def main(homes: int) -> None:
    with servers() as folder:
        import django

        django.setup()
        started = time.perf_counter()
        run = filled(homes)
        tell(f"{run.total:,} homes stored and put in line in {time.perf_counter() - started:.0f} s")
        with worker(folder) as pid:
            seconds, peak = watched(run, pid)
        tell(
            f"{run.done:,} homes in {seconds:.1f} s by {PROCESSES} processes:"
            f" {run.done / seconds:.0f} homes/s; {run.changed:,} kept anew, {run.failed:,} failed;"
            f" {peak / 1024:.0f} MB at most in a process"
        )


@contextmanager
def servers() -> Iterator[Path]:
    """PostgreSQL with the migrated database and Valkey, on a folder of their own."""
    from contractor.local import addresses, postgres, valkey
    from tests import prepared

    with ExitStack() as stack:
        folder = Path(tempfile.mkdtemp(prefix="contractor-bench-", dir="/tmp"))
        stack.callback(shutil.rmtree, folder, ignore_errors=True)
        os.environ |= {
            "LOCAL_DIR": str(folder),
            "DATABASE_URL": addresses.postgres_url(folder),
            "REDIS_URL": addresses.valkey_url(folder),
            "DJANGO_SETTINGS_MODULE": "contractor.settings",
        }
        prepared.fill(folder / "postgres", folder)
        for server in (postgres, valkey):
            name = server.__name__.rpartition(".")[2]
            child = server.serve(data=folder / name, sockets=folder, logs=folder / "log")
            stack.callback(child.stop)
        yield folder


def filled(homes: int) -> Any:
    """So many homes, each calculated by 2017, and the round that waits to take them to 2026."""
    from django.db import connection

    from panels.services import recalculations
    from tests.factories.contractor import AuthorityFactory, FirmFactory
    from tests.factories.panels import a_recorder
    from tests.panels.again import NOW, TODAY, adopt

    FirmFactory()
    authority = AuthorityFactory()
    adopt(authority, "2017")
    patterns = [a_pattern(authority, number) for number in range(min(KINDS, homes))]
    with connection.cursor() as cursor:
        copied(cursor, copies=homes // len(patterns) - 1)
        cursor.execute("ANALYZE")
    newer = adopt(authority, "2026", since=dt.date(2026, 11, 1))
    return recalculations.ask(adoption=newer, by=a_recorder(), now=NOW, today=TODAY)


def a_pattern(authority: Any, number: int) -> Any:
    from panels.models import Home, Load
    from tests.panels.again import a_home, keep

    site = a_home(authority)
    Home.objects.filter(site=site).update(floor_area_ft2=900 + 13 * number)
    range_ = Load.objects.filter(site=site, kind="range")
    range_.update(nameplate=8 + number % 10)
    return keep(site)


def copied(cursor: Any, *, copies: int) -> None:
    """Copies of every site with what hangs on it, made by the database; triggers stay off, so
    that no history of the filling is kept."""
    cursor.execute("SET session_replication_role = replica")
    cursor.execute(
        "CREATE TEMP TABLE copy AS SELECT id AS old, gen_random_uuid() AS new"
        " FROM contractor_site, generate_series(1, %s)",
        [copies],
    )
    cursor.execute("CREATE INDEX ON copy (old)")
    for table, key in (
        ("contractor_site", "id"),
        ("panels_home", "site_id"),
        ("panels_load", "site_id"),
        ("panels_calculation", "site_id"),
    ):
        names = columns(cursor, table)
        taken = [
            "copy.new" if name == key else "gen_random_uuid()" if name == "id" else f't."{name}"'
            for name in names
        ]
        into = ", ".join(f'"{name}"' for name in names)
        cursor.execute(
            f"INSERT INTO {table} ({into}) SELECT {', '.join(taken)}"  # noqa: S608
            f" FROM {table} t JOIN copy ON copy.old = t.{key}"
        )
    cursor.execute("SET session_replication_role = origin")


def columns(cursor: Any, table: str) -> list[str]:
    cursor.execute(
        "SELECT column_name FROM information_schema.columns"
        " WHERE table_name = %s AND is_generated = 'NEVER' ORDER BY ordinal_position",
        [table],
    )
    return [name for (name,) in cursor.fetchall()]


@contextmanager
def worker(folder: Path) -> Iterator[int]:
    """A Celery worker with its processes, as `make run` starts it; the id of its first process."""
    from contractor.local import addresses
    from contractor.local.processes import ends_with_parent, start

    words = [
        *ends_with_parent(), sys.executable, "-m", "celery", "-A", "contractor", "worker",
        f"--concurrency={PROCESSES}", "--without-gossip", "--without-mingle",
        "--without-heartbeat",
    ]  # fmt: skip
    child = start(
        "worker", words, logs=folder / "log", env=dict(os.environ), cwd=addresses.CHECKOUT
    )
    try:
        yield child.process.pid
    finally:
        child.stop()


def watched(run: Any, pid: int) -> tuple[float, int]:
    """Seconds from the clock's tick to the end, the worker's start included, telling how far it
    is; and the most memory a process had, in kB."""
    from contractor.celery import app

    started = told = time.monotonic()
    app.send_task("panels.tasks.recalculate_waiting")
    peak = 0
    while run.is_open:
        time.sleep(0.25)
        run.refresh_from_db()
        peak = max([peak, *map(memory, of_worker(pid))])
        if time.monotonic() - told > 15:
            told = time.monotonic()
            tell(f"  {run.done:,} of {run.total:,}")
    return time.monotonic() - started, peak


def of_worker(pid: int) -> list[int]:
    """The processes a worker has, itself first."""
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    return [pid, *map(int, children)]


def memory(pid: int) -> int:
    """The most memory that stood in for it so far, in kB."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1])
    return 0


def tell(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1].replace(",", "")) if len(sys.argv) > 1 else HOMES)
