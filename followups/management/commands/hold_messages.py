"""After a restore: nothing goes out until someone has looked."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from followups.services.outbox import hold_all


class Command(BaseCommand):
    help = "Hold back every message that is due, until release_held. Run it after a restore."

    def handle(self, *args: Any, **options: Any) -> None:
        self.stdout.write(f"{hold_all()} held back. Look at /messages/, then run release_held.")
