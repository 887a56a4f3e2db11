"""Deletes everything a local run has kept, after asking."""

import shutil
import sys

from contractor.local import addresses
from contractor.local.claim import AlreadyRunning, claimed


def main() -> int:
    """Ask, delete, and return the exit code."""
    folder = addresses.folder()
    if not folder.exists():
        print("There is nothing to delete: no run has kept anything here yet.")
        return 0
    try:
        with claimed():
            print(f"This deletes every customer, job, panel, photo and mail kept in {folder}.")
            if input("Type yes to delete: ").strip().lower() != "yes":
                print("Nothing was deleted.")
                return 1
            shutil.rmtree(folder)
            shutil.rmtree(addresses.sockets(), ignore_errors=True)
    except AlreadyRunning as other:
        print(f"It is running at {other}/ - stop that run first (Ctrl-C in its window).")
        return 1
    except (EOFError, KeyboardInterrupt):
        print("\nNothing was deleted.")
        return 1
    print("Deleted. The next `make run` starts from the beginning.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
