"""What does this room show on a site's and on a job's page, and at the head of a day?"""

from __future__ import annotations

from django.urls import reverse
from django.utils.translation import ngettext

from contractor.models import Person, Site
from contractor.sections import Section
from followups.queries import callbacks, praise, replies
from jobs.day_notes import DayNote
from jobs.models import Job


def for_site(site: Site, person: Person) -> Section | None:
    """The site's callbacks that wait, and the last answers from there."""
    waiting = list(callbacks.waiting().filter(job__site=site))
    said = list(replies.replies().filter(job__site=site)[:3])
    if not waiting and not said:
        return None
    return Section(
        "followups/site_section.html", {"waiting": waiting, "said": said, "person": person}
    )


def for_job(job: Job, person: Person) -> Section | None:
    """What came after this job: mails, answers, callbacks; or the callback it is to answer."""
    answers = list(callbacks.callbacks().filter(booked_as=job))
    sources = [callback.reply_id for callback in answers if callback.reply_id]
    context = {
        "job": job,
        "person": person,
        "callbacks": list(callbacks.callbacks().filter(job=job)),
        "answers": answers,
        "reported": list(replies.replies().filter(pk__in=sources)) if sources else [],
        "said": list(replies.replies().filter(job=job)),
        "messages": list(job.messages.defer("body_text", "body_html").order_by("-not_before"))
        if person.is_office
        else [],
    }
    return Section("followups/job_section.html", context)


def for_day(person: Person) -> DayNote | None:
    """Praise that this person has not read yet."""
    unread = praise.unread_thanks(person)
    if not unread:
        return None
    text = ngettext(
        "A customer has praised your work.", "%(n)d customers have praised your work.", unread
    )
    return DayNote(text % {"n": unread}, reverse("thanks"))
