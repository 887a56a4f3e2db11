"""Load the invented firm of Harrow Mills into an empty database."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from contractor.models import Person
from followups.demo.loading import load


class Command(BaseCommand):
    help = (
        "Load the invented firm of Harrow Mills, with two months of work, into an empty database."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        if Person.objects.exists():
            raise CommandError(
                "There are people in this database already; the demo loads only into an empty one."
            )
        load(now=timezone.now())
        self.stdout.write("The demo is loaded.")
