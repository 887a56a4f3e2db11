"""In which order are rows locked? Crew, people, job, then what hangs on the job: never another."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, TypeVar

from django.db import models
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Crew, Person
from jobs.models import Job, Visit

M = TypeVar("M", bound=models.Model)


def lock_crew_and_people(crew: Crew, people: Iterable[Person]) -> tuple[Crew, list[Person]]:
    """NO KEY: others may go on writing rows that merely point at them."""
    locked = Crew.objects.select_for_update(no_key=True).get(pk=crew.pk)
    keys = [person.pk for person in people]
    rows = Person.objects.select_for_update(no_key=True).filter(pk__in=keys)
    return locked, list(rows.order_by("pk"))


def lock_job(job: Job) -> Job:
    rows = Job.objects.select_for_update(no_key=True, of=("self",))
    return rows.select_related("site", "kind").get(pk=job.pk)


def lock_visit(visit: Visit) -> Visit:
    """The visit under its job's lock, so that holds, order and close-out cannot move beneath."""
    job = lock_job(Job(pk=visit.job_id))
    locked = Visit.objects.select_for_update(no_key=True, of=("self",))
    found = still_there(locked.select_related("crew", "certificate_needed"), visit.pk)
    found.job = job
    return found


def still_there(rows: models.QuerySet[M], key: Any) -> M:
    """The row of that key, or a refusal when someone took it off before the lock was had."""
    found = rows.filter(pk=key).first()
    if found is None:
        raise Refused("gone", _("Someone has taken this off meanwhile. Load the page anew."))
    return found
