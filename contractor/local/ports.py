"""Which ports are free on this computer?"""

import errno
import socket

from contractor.local.accounts import Unavailable

ATTEMPTS = 50


def is_free(port: int) -> bool:
    """Say whether a server could listen on a port of this computer."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as the servers do
        try:
            probe.bind(("127.0.0.1", port))
        except OSError as trouble:
            if trouble.errno in (errno.EADDRINUSE, errno.EACCES):
                return False
            raise
    with socket.socket() as probe:  # one that listens on all addresses may share ours
        return probe.connect_ex(("127.0.0.1", port)) != 0


def next_free(port: int) -> int:
    """Return a port, or the first free one after it."""
    for candidate in range(port, port + ATTEMPTS):
        if is_free(candidate):
            return candidate
    raise Unavailable(
        f"No port from {port} to {port + ATTEMPTS - 1} is free: set PORT to one that is."
    )


def web(wanted: str) -> int:
    """Return the web server's port: the one asked for and no other, else 8000 or the next free."""
    if not wanted:
        return next_free(8000)
    if not wanted.isdecimal() or not 0 < int(wanted) < 65536:
        raise Unavailable(f"PORT must be a number from 1 to 65535, not {wanted!r}.")
    if not is_free(int(wanted)):
        raise Unavailable(
            f"Port {wanted} is taken or not allowed: set PORT to another, or leave it out."
        )
    return int(wanted)
