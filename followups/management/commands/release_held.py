"""Someone has looked: what was held back may go."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from followups.services.outbox import release_all


class Command(BaseCommand):
    help = "Make every held message due again, each at its own time."

    def handle(self, *args: Any, **options: Any) -> None:
        self.stdout.write(f"{release_all()} due again")
