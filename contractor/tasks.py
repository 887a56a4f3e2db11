"""What the firm's room does by the clock."""

from __future__ import annotations

from celery import shared_task
from django.utils import timezone

from contractor.services import letters, tidying


@shared_task
def send_letters() -> int:
    return letters.send_letters(now=timezone.now())


@shared_task
def tidy() -> None:
    tidying.tidy(now=timezone.now())
