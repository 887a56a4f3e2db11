"""What the tests of local runs share: short folders, and programs that refuse."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from contractor.local.processes import ends_with_parent

as_root = pytest.mark.skipif(os.geteuid() != 0, reason="only root changes users")
on_linux = pytest.mark.skipif(not Path("/proc/self").exists(), reason="reads /proc")


@pytest.fixture
def folder() -> Iterator[Path]:
    """A private folder whose path is short enough for sockets, as .local/ and /tmp are."""
    path = Path(tempfile.mkdtemp(prefix="run-", dir="/tmp"))
    yield path
    shutil.rmtree(path)


@pytest.fixture
def refuse(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str], None]]:
    """Let a program of the machine be refused, as containers refuse user namespaces."""
    programs = folder / "programs"
    programs.mkdir()
    monkeypatch.setenv("PATH", f"{programs}:{os.environ['PATH']}")

    def refuse(name: str) -> None:
        (programs / name).write_text("#!/bin/sh\necho 'Operation not permitted' >&2\nexit 1\n")
        (programs / name).chmod(0o755)
        ends_with_parent.cache_clear()

    yield refuse
    ends_with_parent.cache_clear()
