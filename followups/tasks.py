"""What the clock asks for: send what is due."""

from celery import shared_task
from django.utils import timezone

from contractor.health import SWEEP, heartbeat
from followups.services.sweep import send_due


@shared_task
def sweep() -> None:
    send_due(clock=timezone.now)
    heartbeat(SWEEP)
