"""Brings the database of a local run up to date, and loads the demo into a new one, once.

One process does all of it: every start of Django costs about a second.
"""

import gc
import os
from pathlib import Path

import django
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from contractor.local import addresses


def main() -> None:
    """Check, migrate, and load the demo if this is the first start."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.settings")
    django.setup()
    # Migrations make and drop so many classes that collecting them takes half of the time.
    gc.set_threshold(200_000, 20, 100)
    call_command("check")
    demo = addresses.folder() / "demo"
    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        if not executor.loader.applied_migrations:
            demo.write_text("due" if os.environ.get("DEMO") != "0" else "none")
        call_command("migrate", interactive=False)
    load_once(demo)


def load_once(demo: Path) -> None:
    """Load the demo if it is due; one whose load was interrupted is still due at the next start."""
    if demo.exists() and demo.read_text() == "due":
        if not get_user_model().objects.exists():
            call_command("load_demo")
        demo.write_text("loaded")


if __name__ == "__main__":
    main()
