"""The inspections of jobs: the list, asking for one, writing down its result."""

from __future__ import annotations

from functools import partial

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_GET

from contractor.access import Right, SignedIn, fetch, needs
from jobs import queries, services
from jobs.forms.blank import span_of
from jobs.forms.permits import InspectionForm, RequestForm, ResultForm
from jobs.models import Inspection, Job
from jobs.views.filling import at_once, blank, fill_in, fill_in_of, trail
from jobs.views.permits import PER_PAGE


@require_GET
@needs(Right.OFFICE)
def inspections(request: SignedIn) -> HttpResponse:
    """Due, failed or overdue; the overdue ones first when nothing is said."""
    on, state = timezone.localdate(), request.GET.get("state", "due")
    lists = {
        "overdue": queries.inspections_overdue(on),
        "due": queries.inspections_due(on),
        "failed": queries.inspections_failed(),
    }
    state = state if state in lists else "due"
    page = Paginator(lists[state], PER_PAGE).get_page(request.GET.get("page"))
    counts = {name: rows.count() for name, rows in lists.items()}
    return render(
        request,
        "jobs/inspections.html",
        {"page": page, "state": state, "counts": counts, "today": on},
    )


def the_inspection(request: SignedIn, pk: int) -> Inspection:
    return fetch(Inspection.objects.select_related("job__site", "after"), request.user, pk=pk)


@needs(Right.OFFICE)
def inspection_new(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job, request.user, pk=pk)
    return fill_in(
        request,
        blank(request, InspectionForm, job=job),
        partial(services.add_inspection, job=job, by=request.user),
        what=_("One more inspection"),
        done=_("The inspection is added."),
        back=reverse("job", args=[pk]),
        trail=trail(job),
    )


@needs(Right.OFFICE)
def inspection_change(request: SignedIn, pk: int) -> HttpResponse:
    inspection = the_inspection(request, pk)
    initial = {name: getattr(inspection, name) for name in ("name", "after", "due_days")}
    return fill_in_of(
        request,
        inspection,
        blank(request, InspectionForm, job=inspection.job, initial=initial),
        partial(services.change_inspection, inspection=inspection, by=request.user),
        what=_("Change the inspection “%(name)s”") % {"name": inspection.name},
        done=_("Changed, for this job only."),
        instead=(reverse("inspection-cancel", args=[pk]), _("The authority asks for none")),
    )


@needs(Right.OFFICE)
def inspection_request(request: SignedIn, pk: int) -> HttpResponse:
    inspection = the_inspection(request, pk)
    zone = inspection.job.site.zone
    initial = span_of(inspection.window_from, inspection.window_until, zone)
    initial["inspector"] = inspection.inspector
    return fill_in_of(
        request,
        inspection,
        blank(request, RequestForm, initial=initial, zone=zone),
        partial(services.request_inspection, inspection=inspection, by=request.user),
        what=_("%(name)s inspection asked for") % {"name": inspection.name},
        done=_("The inspection is asked for."),
        undo=reverse("inspection-unrequest", args=[pk]),
    )


@needs(Right.OFFICE)
def inspection_result(request: SignedIn, pk: int) -> HttpResponse:
    inspection = the_inspection(request, pk)
    return fill_in_of(
        request,
        inspection,
        blank(
            request,
            ResultForm,
            initial={"on": timezone.localdate(), "inspector": inspection.inspector},
        ),
        partial(services.record_result, inspection=inspection, by=request.user, now=timezone.now()),
        what=_("%(name)s inspection: result") % {"name": inspection.name},
        done=_("The result is on the card."),
        undo=reverse("inspection-take-back", args=[pk]),
    )


_at_once = partial(at_once, "inspection", the_inspection)
inspection_take_back = _at_once(services.take_back_result, _("Taken back, with what followed."))
inspection_unrequest = _at_once(services.take_back_request, _("It counts as not asked for."))
inspection_cancel = _at_once(
    services.cancel_inspection, _("The inspection is cancelled."), "inspection-take-back"
)
