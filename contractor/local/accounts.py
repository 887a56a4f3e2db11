"""As whom does PostgreSQL run, given that it refuses to run as root?"""

import os
from dataclasses import dataclass
from pathlib import Path
from signal import Signals

from contractor.local.processes import ends_with_parent, works

NOBODY = 65534
NAMESPACE = ("unshare", "--user", f"--map-user={NOBODY}", f"--map-group={NOBODY}", "--")
BECOME_NOBODY = ("setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups")
# Without the power to pass closed folders, nobody could not reach a checkout under /root.
OTHER_USER = (*BECOME_NOBODY, "--inh-caps=+dac_override", "--ambient-caps=+dac_override", "--")


class Unavailable(Exception):
    """A piece cannot be started here; the text says what to do."""


@dataclass(frozen=True)
class Account:
    """The command prefix that leaves root, and the user who must own the files."""

    prefix: tuple[str, ...]
    owner: int

    def command(self, *words: str | Path) -> list[str]:
        """Return the words as this account runs them."""
        return [*self.prefix, *map(str, words)]

    def server(self, *words: str | Path, stop_signal: Signals) -> list[str]:
        """Return the words of a server that must not outlive us."""
        return self.command(*ends_with_parent(stop_signal), *words)

    def may_run(self, program: Path) -> bool:
        """Say whether PostgreSQL will think it may run a program: it asks without the power."""
        return self.prefix != OTHER_USER or works(*BECOME_NOBODY, "test", "-x", str(program))

    def takes(self, folder: Path) -> None:
        """Hand a folder and what is in it to the account, if another one had it before."""
        if not folder.exists() or folder.stat().st_uid == self.owner:
            return
        for path in (folder, *folder.rglob("*")):
            os.chown(path, self.owner, -1, follow_symlinks=False)


def account() -> Account:
    """Find an account for a server that must not be root.

    Root first tries a user namespace, which needs no account and no change of owner; where
    those are refused (most containers), the user nobody.
    """
    user = os.geteuid()
    if user != 0:
        return Account((), user)
    if works(*NAMESPACE, "true"):
        return Account(NAMESPACE, user)
    if works(*OTHER_USER, "true"):
        return Account(OTHER_USER, NOBODY)
    raise Unavailable(
        "PostgreSQL does not run as root, and neither unshare nor setpriv is allowed here: "
        "start as an ordinary user, or set DATABASE_URL to a PostgreSQL server."
    )
