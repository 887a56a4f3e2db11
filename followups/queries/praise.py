"""Who was praised, and have they heard it?"""

from __future__ import annotations

from django.db.models import QuerySet

from contractor.models import Person
from followups.cadence.words import Answer
from followups.models import Reply, Thanks
from jobs.models import Job
from jobs.planning.words import VisitState


def unread_thanks(person: Person) -> int:
    """How many words of praise this person has not read yet."""
    return Thanks.objects.filter(person=person, read_at__isnull=True).count()


def thanks_for(person: Person) -> QuerySet[Thanks]:
    """A technician's own praise, newest first; the owner and the office hear all of it."""
    every = Thanks.objects.select_related("person", "job__site__customer", "reply")
    return every if person.is_office else every.filter(person=person)


def who_did(job: Job) -> QuerySet[Person]:
    """Everyone who was put on a visit of this job that took place."""
    return Person.objects.filter(
        assignments__visit__job=job,
        assignments__visit__state__in=[VisitState.DONE, VisitState.UNDER_WAY],
    ).distinct()


def silent_praise(person: Person) -> int:
    """How many customers of this person's jobs said that all is well and nothing more."""
    return (
        Reply.objects.filter(answer=Answer.WELL, text="", job__visits__assignments__person=person)
        .distinct()
        .count()
    )
