"""What other rooms' pages show of the follow-up."""

from __future__ import annotations

import pytest
from django.template.loader import render_to_string

from contractor.models import Person
from followups import sections
from followups.services import callbacks, praise
from jobs.models import Job
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def shown(job: Job, person: Person) -> str:
    section = sections.for_job(job, person)
    assert section is not None
    return render_to_string(section.template, section.context)


def test_a_job_shows_what_came_after_it_and_mails_only_to_the_office() -> None:
    ana = planned.person("Ana")
    reply = made.answered(made.sent_check_in(ana), "wrong", "It hums.")
    office, crew = shown(reply.job, planned.coordinator()), shown(reply.job, ana)
    for page in (office, crew):
        assert "It hums." in page
    assert "/messages/" in office
    assert "/messages/" not in crew
    assert "/callbacks/" not in crew


def test_the_crew_of_a_callback_sees_what_was_reported() -> None:
    office = planned.coordinator()
    reply = made.answered(made.sent_check_in(), "wrong", "It hums.")
    booked = callbacks.book_visit(
        callback=reply.callback, title="Hum", by=office, now=made.WEEK_LATER
    )
    assert "It hums." in shown(booked.booked_as, planned.person())


def test_a_site_shows_callbacks_that_wait_and_nothing_when_there_is_nothing() -> None:
    office = planned.coordinator()
    job = planned.job()
    assert sections.for_site(job.site, office) is None
    callbacks.open_callback(job=job, what="It hums.", by=office, now=made.WEEK_LATER)
    section = sections.for_site(job.site, office)
    assert section is not None
    assert "It hums." in render_to_string(section.template, section.context)


def test_the_day_says_that_there_is_praise_until_it_is_read() -> None:
    ana = planned.person("Ana")
    assert sections.for_day(ana) is None
    made.answered(made.sent_check_in(ana), "well", "Very tidy.")
    note = sections.for_day(ana)
    assert note is not None
    assert (note.text, note.url) == ("A customer has praised your work.", "/thanks/")
    praise.mark_read(person=ana, now=made.WEEK_LATER)
    assert sections.for_day(ana) is None
