"""The demo's jobs: every event of every job, in the order of time, through the services."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from contractor.models import Crew, CustomerLink, Person, Role, Site
from followups.demo import proofs, table
from followups.demo.calendar import Calendar
from followups.models import Message
from followups.senders import Fate, Sent
from followups.services import answers, callbacks, outbox
from jobs.models import Hold, Inspection, Job, JobKind, Visit
from jobs.planning.words import HoldKind, InspectionState, VisitState
from jobs.services import (
    assign_crew,
    book_job,
    cancel_job,
    cancel_visit,
    close_out,
    field,
    final_permit,
    issue_permit,
    promise_arrival,
    record_result,
    release_hold,
    request_inspection,
)
from jobs.services.permits import apply_for_permit

# When in a day each kind of event happens, so that a day's events follow from one another.
HOURS = {
    "book": "08:10",
    "release": "09:00",
    "apply": "10:00",
    "permit": "11:00",
    "request": "11:30",
    "inspect": "14:00",
    "plan": "16:00",
    "final": "15:00",
    "cancel": "15:30",
    "drop": "15:40",
    "answer": "18:20",
    "come_back": "08:40",
    "mend": "13:00",
}
RELEASED_BY_ITSELF = (HoldKind.PERMIT, HoldKind.INSPECTION)


@dataclass(frozen=True)
class Event:
    """One thing that happens to one job."""

    at: dt.datetime
    do: str
    job: str
    facts: dict[str, Any]


@dataclass(frozen=True)
class Firm:
    """Who does what in the demo."""

    coordinator: Person
    sites: dict[str, Site]
    calendar: Calendar
    now: dt.datetime


def load_jobs(*, sites: dict[str, Site], calendar: Calendar, now: dt.datetime) -> None:
    """All events up to `now`, and the messages they caused sent as they fell due."""
    coordinator = Person.objects.filter(role=Role.COORDINATOR).get()
    firm = Firm(coordinator=coordinator, sites=sites, calendar=calendar, now=now)
    booked: dict[str, Job] = {}
    for event in sorted(_events(calendar), key=lambda event: event.at):
        if event.at > now:
            continue  # later than the demo's own present: it has not happened
        _send_until(event.at)
        booked[event.job] = DO[event.do](booked.get(event.job), event, firm)
    _send_until(now)


def _events(calendar: Calendar) -> list[Event]:
    found: list[Event] = []
    for number, job in enumerate(table("jobs.toml")["jobs"]):
        key = f"{number:02d}"
        found.append(Event(calendar.at(job["booked"], HOURS["book"]), "book", key, job))
        for facts in job["events"]:
            found += _from(facts, key, calendar)
    return found


def _from(facts: dict[str, Any], key: str, calendar: Calendar) -> list[Event]:
    """A visit is two events: planned on one day, done on another."""
    if facts["do"] == "visit":
        begins = calendar.at(facts["day"], facts["at"])
        planned = calendar.at(facts["planned"], HOURS["plan"])
        return [Event(planned, "plan", key, facts), Event(begins, "visit", key, facts)]
    if facts["do"] == "close":
        return [Event(calendar.at(facts["day"], "17:30"), "close", key, facts)]
    return [Event(calendar.at(facts["day"], HOURS[facts["do"]]), facts["do"], key, facts)]


def _send_until(moment: dt.datetime) -> None:
    """What fell due by then was sent then: the past needs no mail server."""
    while due := Message.objects.filter(state="due", not_before__lte=moment).first():
        at = max(due.not_before, due.written_at)
        for message in outbox.claim(now=at, owner="demo", limit=100):
            outbox.settle(message, sent=Sent(Fate.TAKEN), now=at)


def _book(_: Job | None, event: Event, firm: Firm) -> Job:
    facts = event.facts
    return book_job(
        site=firm.sites[facts["site"]],
        kind=JobKind.objects.get(name=facts["kind"]),
        title=facts["title"],
        by=firm.coordinator,
        now=event.at,
    )


def _visit_of(job: Job | None, event: Event) -> Visit:
    return Visit.objects.select_related("job").get(job=job, name=event.facts["visit"])


def _release(job: Job | None, event: Event, firm: Firm) -> Job:
    visit = _visit_of(job, event)
    for hold in Hold.objects.filter(visit=visit).exclude(kind__in=RELEASED_BY_ITSELF):
        release_hold(hold=hold, by=firm.coordinator, now=event.at)
    return visit.job


def _plan(job: Job | None, event: Event, firm: Firm) -> Job:
    visit = _visit_of(job, event)
    facts = event.facts
    if "promised" in facts:
        first, last = (firm.calendar.at(facts["day"], clock) for clock in facts["promised"])
        promise_arrival(
            visit=visit, by=firm.coordinator, now=event.at, promised_from=first, promised_until=last
        )
    assign_crew(
        visit=visit,
        crew=Crew.objects.get(name=facts["crew"]),
        starts_at=firm.calendar.at(facts["day"], facts["at"]),
        by=firm.coordinator,
        now=event.at,
        overrides={"absent": "Taken over at short notice by the rest of the crew."},
    )
    return visit.job


def _visit(job: Job | None, event: Event, firm: Firm) -> Job:
    visit = _visit_of(job, event)
    lead = visit.crew.lead if visit.crew else None
    if lead is None or visit.ends_at is None:
        raise ValueError(f"{visit} has no crew lead or no time")
    field.arrive(visit=visit, by=lead, now=event.at)
    left = visit.ends_at - dt.timedelta(minutes=5)
    # A crew that "stays" has not said yet that it left; one that is still at work has not either.
    if left <= firm.now and not event.facts.get("stays"):
        visit.refresh_from_db()
        field.leave(visit=visit, by=lead, now=left)
    return visit.job


def _drop(job: Job | None, event: Event, firm: Firm) -> Job:
    visit = _visit_of(job, event)
    cancel_visit(visit=visit, by=firm.coordinator, now=event.at)
    return visit.job


def _close(job: Job | None, event: Event, firm: Firm) -> Job:
    last = Visit.objects.filter(job=job, state=VisitState.DONE).latest("left_at")
    lead = last.crew.lead if last.crew else None
    if job is None or lead is None:
        raise ValueError(f"{last} has no crew lead")
    proofs.prove(job=job, visit=last, by=lead, now=event.at)
    job.refresh_from_db()
    close_out.close_job(job=job, visit=last, by=lead, now=event.at, issue_directories=True)
    return job


def _permit(job: Job | None, event: Event, firm: Firm) -> Job:
    permit = _must(job).permits.get()
    if event.do == "apply":
        apply_for_permit(permit=permit, on=event.at.date(), by=firm.coordinator)
    elif event.do == "permit":
        issue_permit(
            permit=permit,
            number=event.facts["number"],
            issued_on=event.at.date(),
            by=firm.coordinator,
            now=event.at,
        )
    else:
        final_permit(permit=permit, on=event.at.date(), by=firm.coordinator)
    return _must(job)


def _inspection(job: Job | None, event: Event, firm: Firm) -> Job:
    waiting = Inspection.objects.filter(job=job, name=event.facts["inspection"])
    inspection = waiting.filter(
        state__in=[InspectionState.DUE, InspectionState.REQUESTED]
    ).earliest("pk")
    if event.do == "request":
        opens = event.at.replace(hour=8, minute=0) + dt.timedelta(days=1)
        request_inspection(
            inspection=inspection,
            by=firm.coordinator,
            window_from=opens,
            window_until=opens + dt.timedelta(hours=4),
            inspector="Inspector Brandt",
        )
    else:
        record_result(
            inspection=inspection,
            passed=event.facts["result"] == "passed",
            on=event.at.date(),
            by=firm.coordinator,
            now=event.at,
            findings=event.facts.get("findings", ""),
        )
    return _must(job)


def _answer(job: Job | None, event: Event, firm: Firm) -> Job:
    link = CustomerLink.objects.get(purpose=CustomerLink.Purpose.ANSWER, subject=_must(job).pk)
    answers.give_answer(
        link=link, answer=event.facts["answer"], text=event.facts["text"], now=event.at
    )
    return _must(job)


def _come_back(job: Job | None, event: Event, firm: Firm) -> Job:
    callback, title = _must(job).callbacks.get(), event.facts["title"]
    callbacks.book_visit(callback=callback, title=title, by=firm.coordinator, now=event.at)
    return _must(job)


def _mend(job: Job | None, event: Event, firm: Firm) -> Job:
    callbacks.close(
        callback=_must(job).callbacks.get(),
        cause=event.facts["cause"],
        resolution=event.facts["resolution"],
        by=firm.coordinator,
        now=event.at,
    )
    return _must(job)


def _cancel(job: Job | None, event: Event, firm: Firm) -> Job:
    return cancel_job(job=_must(job), because=event.facts["why"], by=firm.coordinator, now=event.at)


def _must(job: Job | None) -> Job:
    if job is None:
        raise ValueError("an event of the demo comes before its job is booked")
    return job


DO: dict[str, Callable[[Job | None, Event, Firm], Job]] = {
    "book": _book,
    "release": _release,
    "apply": _permit,
    "permit": _permit,
    "final": _permit,
    "plan": _plan,
    "visit": _visit,
    "drop": _drop,
    "request": _inspection,
    "inspect": _inspection,
    "close": _close,
    "answer": _answer,
    "cancel": _cancel,
    "come_back": _come_back,
    "mend": _mend,
}
