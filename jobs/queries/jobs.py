"""Which jobs are there, and what is each waiting for?"""

from __future__ import annotations

from django.db.models import (
    Case,
    CharField,
    Exists,
    F,
    OuterRef,
    Prefetch,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
)
from django.utils.translation import gettext as _

from contractor.access import fetch, visible
from contractor.models import Customer, Person, Site
from jobs.models import Hold, Inspection, Job, Permit, Visit
from jobs.planning.steps import SENTENCES, NextStep
from jobs.planning.words import InspectionState, JobState, VisitState, listed
from jobs.queries.planning import waiting_for

AHEAD = (VisitState.UNPLANNED, VisitState.PLANNED, VisitState.UNDER_WAY)
WAITING = (InspectionState.DUE, InspectionState.REQUESTED)


def jobs(
    person: Person, *, words: str = "", state: str = "", kind: str = "", step: str = ""
) -> QuerySet[Job]:
    """The jobs this person may see, newest first, with `step` and what a list row shows."""
    found = with_step(visible(Job.objects.all(), person))
    if state:
        found = found.filter(state=state)
    if kind.isdecimal():
        found = found.filter(kind=int(kind))
    if step:
        found = found.filter(step=step)  # type: ignore[misc]
    for word in words.split():
        found = found.filter(_about(word))
    return found.select_related("site__customer", "kind").prefetch_related(*LISTED)


def _about(word: str) -> Q:
    """Each part is found by its own index; what is joined here is only their keys."""
    customers = Customer.objects.filter(name__icontains=word)
    sites = Site.objects.filter(Q(street__icontains=word) | Q(customer__in=customers.values("pk")))
    permits = Permit.objects.filter(number__iexact=word)
    said = Q(title__icontains=word) | Q(site__in=sites.values("pk"))
    said |= Q(pk__in=permits.values("job"))
    return said | Q(number=int(word)) if word.isdecimal() and len(word) < 10 else said


LISTED = (
    Prefetch(
        "visits",
        queryset=Visit.objects.prefetch_related(
            Prefetch(
                "holds",
                queryset=Hold.objects.filter(released_at=None).select_related("inspection"),
                to_attr="open_holds",
            )
        ),
    ),
    Prefetch(
        "inspections",
        queryset=Inspection.objects.filter(state__in=WAITING),
        to_attr="waiting_inspections",
    ),
)


def with_step(found: QuerySet[Job]) -> QuerySet[Job]:
    """Adds `step`, a `NextStep`: decided by the first visit ahead, then by inspections."""
    ahead = Visit.objects.filter(job=OuterRef("pk"), state__in=AHEAD).order_by(
        Case(When(state=VisitState.UNDER_WAY, then=0), default=1), "order", "starts_at"
    )
    held = Hold.objects.filter(visit=OuterRef("next_visit"), released_at=None)
    inspecting = Inspection.objects.filter(job=OuterRef("pk"), state__in=WAITING)
    return found.annotate(
        next_visit=Subquery(ahead.values("pk")[:1]),
        next_state=Subquery(ahead.values("state")[:1]),
    ).annotate(
        step=Case(
            When(state__in=[JobState.CLOSED, JobState.CANCELLED], then=F("state")),
            When(next_state=VisitState.UNDER_WAY, then=Value(NextStep.ON_SITE.value)),
            When(Exists(held), then=Value(NextStep.HELD.value)),
            When(next_state=VisitState.PLANNED, then=Value(NextStep.PLANNED.value)),
            When(next_state=VisitState.UNPLANNED, then=Value(NextStep.UNPLANNED.value)),
            When(Exists(inspecting), then=Value(NextStep.INSPECTION.value)),
            default=Value(NextStep.CLOSE_OUT.value),
            output_field=CharField(),
        )
    )


def step_in_words(job: Job) -> str:
    """The next step of a job listed by `jobs`: "Cut-over waits for permit issued"."""
    visit = next_visit(job)
    holds = [waiting_for(hold) for hold in visit.open_holds] if visit else []  # type: ignore[attr-defined]
    inspections = [row.name for row in job.waiting_inspections]  # type: ignore[attr-defined]
    step = NextStep(job.step)  # type: ignore[attr-defined]
    return _(SENTENCES[step]).format(
        visit=visit.name if visit else "", holds=listed(holds), inspections=listed(inspections)
    )


def next_visit(job: Job) -> Visit | None:
    """The visit `step` speaks of."""
    key = job.next_visit  # type: ignore[attr-defined]
    return next((visit for visit in job.visits.all() if visit.pk == key), None)


def job_page(person: Person, **lookup: object) -> Job:
    """One job with everything its page shows; 404 when the person may not see it."""
    visits = Visit.objects.select_related("crew", "certificate_needed").prefetch_related(
        Prefetch("holds", queryset=Hold.objects.select_related("inspection", "released_by")),
        "assignments__person",
        "overrides__by",
    )
    rows = with_step(Job.objects.all()).select_related(
        "site__customer", "site__authority", "site__utility", "kind", "booked_by", "closed_by",
        "callback_of",
    )  # fmt: skip
    rows = rows.prefetch_related(
        Prefetch("visits", queryset=visits),
        Prefetch("permits", queryset=Permit.objects.select_related("authority")),
        Prefetch("inspections", queryset=Inspection.objects.select_related("after", "again_of")),
        "close_out",
    )
    return fetch(rows, person, **lookup)
