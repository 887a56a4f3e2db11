"""What the clock asks of this room: calculate homes again that wait for it."""

from __future__ import annotations

import uuid

from celery import shared_task
from django.utils import timezone

from panels.services import recalculating

HANDS = 2  # as many as a worker has processes


@shared_task
def recalculate_waiting() -> None:
    """Put hands to every round that has none: a new one, or one whose worker or broker died."""
    for pk in recalculating.left_alone(now=timezone.now()):
        for _hand in range(HANDS):
            recalculate.delay(str(pk))


@shared_task
def recalculate(pk: str) -> None:
    """One slice of a round; then to the end of the queue, behind whatever else is due."""
    if recalculating.work(uuid.UUID(pk), clock=timezone.now):
        recalculate.delay(pk)
