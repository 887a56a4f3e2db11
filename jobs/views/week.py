"""The week: crews down, days across, and what is not planned yet beside it."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.access import Right, SignedIn, may, needs
from jobs import queries
from jobs.views.filling import day_named

UNPLANNED_SHOWN = 40


@require_GET
@needs(Right.FIELD)
def week(request: SignedIn) -> HttpResponse:
    today = timezone.localdate()
    context = {
        "week": queries.week(
            request.user, on=day_named(request.GET.get("from", "")) or today, today=today
        ),
        "office": may(request.user, Right.OFFICE),
    }
    if context["office"]:
        context |= _unplanned(request)
    return render(request, "jobs/week.html", context)


def _unplanned(request: SignedIn) -> dict[str, Any]:
    """The next visit of each job that is not planned; `later` shows those after it too."""
    later = "later" in request.GET
    rows = queries.unplanned(later=later)
    page = Paginator(rows, UNPLANNED_SHOWN).get_page(request.GET.get("page"))
    listed = [(visit, queries.why_not_planned(visit)) for visit in page]
    return {"unplanned": listed, "page": page, "later": later}
