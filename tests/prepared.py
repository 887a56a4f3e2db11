"""Keeps a PostgreSQL data folder with the migrations already applied, from one run to the next.

Django takes many seconds to apply them; a test run copies the folder and clones its database.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from contractor.local import addresses, postgres

KEPT = addresses.CHECKOUT / ".local" / "tests"
DECIDING = (
    "requirements-dev.txt",
    "contractor/local/postgres.py",
    "*/migrations/*.py",
    "*/models/*.py",  # the triggers follow them
    "contractor/history.py",
    "contractor/settings.py",
    "jobs/kinds.toml",
)


def fingerprint() -> str:
    """Name the state that the migrations of this checkout lead to."""
    found = hashlib.sha256(sys.version.encode())
    for path in sorted(path for name in DECIDING for path in addresses.CHECKOUT.glob(name)):
        found.update(str(path).encode() + path.read_bytes())
    return found.hexdigest()[:16]


def fill(data: Path, folder: Path) -> None:
    """Put a data folder with a migrated database at `data`, made anew if migrations changed."""
    kept = KEPT / fingerprint()
    if not kept.exists():
        _make(kept, folder)
    subprocess.run(["cp", "-a", kept, data], check=True)


def _make(kept: Path, folder: Path) -> None:
    shutil.rmtree(KEPT, ignore_errors=True)
    KEPT.mkdir(parents=True)
    draft = folder / "draft"
    server = postgres.serve(data=draft, sockets=folder, logs=folder / "log", fast=True)
    env = os.environ | {
        "DATABASE_URL": addresses.postgres_url(folder),
        "LOCAL_DIR": str(folder),
        "DEMO": "0",
    }
    try:
        subprocess.run(
            [sys.executable, "-m", "contractor.local.prepare"],
            cwd=addresses.CHECKOUT,
            env=env,
            check=True,
            stdout=subprocess.DEVNULL,
        )
    finally:
        server.stop()
    # Other runs may be doing the same; the first one's folder is as good as ours.
    own = KEPT / f"draft-{os.getpid()}"
    shutil.move(draft, own)
    try:
        own.rename(kept)
    except OSError:
        shutil.rmtree(own)
