"""Where do the private pieces of a local run live, and under which addresses do they answer?"""

import hashlib
import os
import secrets
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile
from urllib.parse import parse_qs, urlsplit

CHECKOUT = Path(__file__).resolve().parents[2]
DATABASE = "contractor"
PORT = 5432  # names PostgreSQL's socket; said aloud because PGPORT would change the default
MAIL_URL = "smtp://127.0.0.1:1025"
SITE_URL = "http://127.0.0.1:8000"


def folder() -> Path:
    """Return the folder of everything a local run keeps: `.local/`, or what LOCAL_DIR names."""
    return Path(os.environ.get("LOCAL_DIR") or CHECKOUT / ".local").resolve()


def sockets() -> Path:
    """Return the folder of this checkout's Unix sockets.

    The path of a socket may hold 107 bytes (103 on macOS) and a checkout may lie deeper than
    that, so the folder is short and named by a hash; /tmp rather than TMPDIR, so that every
    shell agrees. `private_folder` makes it and checks whose it is.
    """
    digest = hashlib.sha256(str(folder()).encode()).hexdigest()[:12]
    return Path("/tmp") / f"contractor-{os.getuid()}-{digest}"  # noqa: S108


def private_folder(path: Path) -> Path:
    """Make a folder only its owner can enter; refuse one that somebody else has put there."""
    path.mkdir(mode=0o700, parents=True, exist_ok=True)
    found = path.lstat()
    if path.is_symlink() or found.st_uid != os.getuid() or found.st_mode & 0o077:
        raise PermissionError(
            f"{path} must be a folder that only you can enter: remove it, or run as its owner."
        )
    return path


def postgres_url(place: Path, database: str = DATABASE) -> str:
    """Return the URL of a PostgreSQL that listens in a folder, as django-environ reads it."""
    return f"postgresql://{DATABASE}@:{PORT}/{place}/{database}"


def valkey_url(place: Path, number: int = 0) -> str:
    """Return the URL of a Valkey that listens in a folder, as redis-py reads it."""
    return f"unix://{place}/valkey.sock?db={number}"


def broker_url(redis_url: str) -> str:
    """Return a Redis URL as Celery reads it: the same, but Unix sockets are spelled differently."""
    parts = urlsplit(redis_url)
    if parts.scheme != "unix":
        return redis_url
    number = parse_qs(parts.query).get("db", ["0"])[0]
    return f"redis+socket://{parts.path}?virtual_host={number}"


def database_url() -> str:
    """Return the URL of this checkout's private database."""
    return postgres_url(sockets())


def redis_url() -> str:
    """Return the URL of this checkout's private broker and cache."""
    return valkey_url(sockets())


def email_url() -> str:
    """Return the URL of this checkout's mail catcher."""
    return _noted("email-url") or MAIL_URL


def site_url() -> str:
    """Return the address of this checkout's web server."""
    return _noted("site-url") or SITE_URL


def note(name: str, value: str) -> None:
    """Keep an address that was only known at the start, for later shells to find."""
    (folder() / name).write_text(value)


def _noted(name: str) -> str:
    try:
        return (folder() / name).read_text()
    except FileNotFoundError:
        return ""


def secret_key() -> str:
    """Return this checkout's secret key; the first call makes it, readable by its owner only."""
    path = folder() / "secret-key"
    try:
        return path.read_text()
    except FileNotFoundError:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with NamedTemporaryFile("w", dir=path.parent, prefix="secret-key-") as draft:  # owner's only
        draft.write(secrets.token_urlsafe(50))
        draft.flush()
        with suppress(FileExistsError):
            os.link(draft.name, path)  # whole or not at all: two first starts agree on one key
    return path.read_text()
