"""Does the clock's own work do what its services do, in a real worker?"""

from __future__ import annotations

import pytest
from celery.schedules import crontab
from django.conf import settings
from django.utils import timezone

from contractor.celery import app
from contractor.models import PasswordLetter
from contractor.services.letters import owe_letter
from tests.factories.contractor import FirmFactory, TechnicianFactory


@pytest.mark.django_db(transaction=True)
def test_a_worker_sends_the_letter_owed(celery_worker, smtp) -> None:
    FirmFactory()
    person = TechnicianFactory(email="rhys@tallowcreek.example")
    owe_letter(email=person.email, why=PasswordLetter.Why.INVITED, now=timezone.now())
    celery_worker().run("contractor.tasks.send_letters")
    assert PasswordLetter.objects.get().done_at is not None
    assert smtp.messages[0]["To"] == person.email


def test_the_clock_knows_tasks_that_exist() -> None:
    app.loader.import_default_modules()
    for name, beat in settings.CELERY_BEAT_SCHEDULE.items():
        assert beat["task"] in app.tasks, name
        assert isinstance(beat["schedule"], float | crontab)
