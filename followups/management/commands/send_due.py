"""Send what is due without the background workers: once, or again and again."""

from __future__ import annotations

import logging
import time
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand
from django.db import close_old_connections
from django.utils import timezone

from contractor.health import SWEEP, heartbeat
from followups.services.sweep import send_due

log = logging.getLogger(__name__)


class Command(BaseCommand):
    help = "Send the messages that are due now; with --loop go on until stopped."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--loop", action="store_true", help="go on until stopped")
        parser.add_argument("--every", type=float, default=30, metavar="SECONDS")

    def handle(self, *args: Any, loop: bool, every: float, **options: Any) -> None:
        if not loop:
            self.stdout.write(f"{send_due(clock=timezone.now)} handed to the mail server")
            return
        while True:
            self._round()
            time.sleep(every)

    def _round(self) -> None:
        """One round; whatever stops it, the next one comes."""
        for step in (lambda: send_due(clock=timezone.now), lambda: heartbeat(SWEEP)):
            try:
                close_old_connections()
                step()
            except Exception:
                log.exception("this round was cut short")
