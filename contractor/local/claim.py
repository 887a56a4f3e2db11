"""Is another run of this checkout alive, and where?"""

import fcntl
from collections.abc import Iterator
from contextlib import contextmanager

from contractor.local import addresses


class AlreadyRunning(Exception):
    """Somebody else holds the claim; the text says where that run answers."""


@contextmanager
def claimed() -> Iterator[None]:
    """Hold `.local/` for the length of the block; the system lets go for us, however we end."""
    addresses.folder().mkdir(mode=0o700, parents=True, exist_ok=True)
    with (addresses.folder() / "lock").open("a") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise AlreadyRunning(addresses.site_url()) from None
        yield
