"""How is a child process started, watched, and stopped within a bounded time?"""

import os
import signal
import subprocess
from collections import deque
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path

KEPT_LOGS = 5


@dataclass(frozen=True, kw_only=True)
class Child:
    """A running process that leads its own process group, so that Ctrl-C reaches only us."""

    name: str
    process: "subprocess.Popen[bytes]"
    log: Path
    stop_signal: signal.Signals
    patience: float

    @property
    def exit_code(self) -> int | None:
        return self.process.poll()

    def stop(self) -> None:
        """Ask it to stop; after `patience` seconds end it and everything it started."""
        if self.exit_code is None:
            self.process.send_signal(self.stop_signal)
        with suppress(subprocess.TimeoutExpired):
            self.process.wait(self.patience)
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def last_lines(self, count: int = 30) -> str:
        """Return the end of its log."""
        with self.log.open(errors="replace") as lines:
            return "".join(deque(lines, maxlen=count))


def start(
    name: str,
    command: Sequence[str | Path],
    *,
    logs: Path,
    env: Mapping[str, str] | None = None,
    cwd: Path | None = None,
    keeps: Sequence[int] = (),
    stop_signal: signal.Signals = signal.SIGTERM,
    patience: float = 10.0,
) -> Child:
    """Start a child that writes to a fresh log of its own and `keeps` the open files named."""
    log = fresh_log(logs, name)
    with log.open("wb") as out:
        process = subprocess.Popen(
            [str(word) for word in command],
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=subprocess.STDOUT,
            env=env,
            cwd=cwd,
            pass_fds=keeps,
            start_new_session=True,
        )
    return Child(name=name, process=process, log=log, stop_signal=stop_signal, patience=patience)


@cache
def ends_with_parent(stop_signal: signal.Signals = signal.SIGTERM) -> tuple[str, ...]:
    """Return the command prefix that stops a child when we are killed without a chance to.

    Linux can promise that; elsewhere the next start finds what was left running.
    """
    prefix = ("setpriv", "--pdeathsig", stop_signal.name.removeprefix("SIG"), "--")
    return prefix if works(*prefix, "true") else ()


def works(*command: str) -> bool:
    """Say whether a command exists, may be run here, and ends well."""
    try:
        return subprocess.run(command, capture_output=True, timeout=10).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False


def fresh_log(logs: Path, name: str) -> Path:
    """Return a new log's path; the logs of the last few starts stay beside it as .1, .2, ..."""
    logs.mkdir(parents=True, exist_ok=True)
    paths = [
        logs / f"{name}.log",
        *(logs / f"{name}.log.{n}" for n in range(1, KEPT_LOGS)),
    ]
    for older, newer in zip(reversed(paths), reversed(paths[:-1]), strict=False):
        if newer.exists():
            newer.replace(older)
    return paths[0]
