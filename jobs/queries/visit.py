"""Everything one visit's page shows to the people who do the work."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import OuterRef, Prefetch, QuerySet, Subquery

from contractor.access import visible
from contractor.models import Person
from jobs.models import Assignment, Hold, Inspection, Permit, Photo, Visit
from jobs.planning.words import Code, PermitState, VisitState
from jobs.queries.close_out import Sheet, sheet
from jobs.queries.planning import waiting_for
from panels.models import DirectoryRevision, Panel, Source

AHEAD = (VisitState.UNPLANNED, VisitState.PLANNED, VisitState.UNDER_WAY)
HOLDS = Hold.objects.select_related("inspection", "released_by")


@dataclass(frozen=True)
class VisitPage:
    visit: Visit
    people: list[Person]
    holds: list[tuple[Hold, str]]
    insisted: bool
    permits: list[Permit]
    inspections: list[Inspection]
    visits: list[Visit]
    others: list[Visit]
    panels: list[Panel]
    sources: list[Source]
    photos: list[Photo]
    sheet: Sheet

    @property
    def open_holds(self) -> list[str]:
        return [words for hold, words in self.holds if hold.released_at is None]

    @property
    def may_begin(self) -> bool:
        return self.insisted or not self.open_holds

    @property
    def is_last(self) -> bool:
        """No other visit of the job is still ahead: what follows is the close-out."""
        return not any(row.state in AHEAD and row.pk != self.visit.pk for row in self.visits)


def visits() -> QuerySet[Visit]:
    """Visits with what their page needs, in a fixed number of queries."""
    return Visit.objects.select_related(
        "job__site__customer", "job__site__authority", "job__site__utility", "job__kind", "crew"
    ).prefetch_related(
        Prefetch("assignments", Assignment.objects.select_related("person")),
        Prefetch("holds", HOLDS),
        "overrides__by",
        "job__permits",
        "job__inspections",
        Prefetch("job__visits", Visit.objects.prefetch_related(Prefetch("holds", HOLDS))),
    )


def visit_page(visit: Visit, person: Person) -> VisitPage:
    """For a visit fetched from `visits`."""
    job = visit.job
    return VisitPage(
        visit=visit,
        people=sorted((row.person for row in visit.assignments.all()), key=lambda one: one.name),
        holds=[(hold, waiting_for(hold)) for hold in visit.holds.all()],
        insisted=any(row.code == Code.HOLD for row in visit.overrides.all()),
        permits=[row for row in job.permits.all() if row.state != PermitState.CANCELLED],
        inspections=list(job.inspections.all()),
        visits=list(job.visits.all()),
        others=list(visible(Visit.objects.filter(job=job), person).exclude(pk=visit.pk)),
        panels=panels_of(visit),
        sources=list(Source.objects.filter(site=job.site).select_related("circuit__panel")),
        photos=list(
            Photo.objects.standing()
            .filter(visit=visit)
            .select_related("taken_by", "panel", "line", "visit__job")
        ),
        sheet=sheet(job),
    )


def panels_of(visit: Visit) -> list[Panel]:
    """The site's panels in use, each with the number of the directory last issued."""
    last = DirectoryRevision.objects.filter(panel=OuterRef("pk")).order_by("-number")
    rows = Panel.objects.filter(site=visit.job.site_id, retired_at=None)
    return list(rows.annotate(issued=Subquery(last.values("number")[:1])))
