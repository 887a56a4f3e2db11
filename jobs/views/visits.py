"""The visits of a job as the office changes them: needs, order, promise, holds."""

from __future__ import annotations

from functools import partial

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.notices import say
from contractor.ways_back import back_to
from jobs import queries, services
from jobs.forms.blank import span_of
from jobs.forms.visits import ChangeVisitForm, HoldForm, NeedsForm, PromiseForm, ReleaseForm
from jobs.models import Hold, Job, Visit
from jobs.views.filling import blank, fill_in, trail

NEEDS = ("name", "expected_minutes", "people_needed", "grade_needed", "certificate_needed", "rev")


def the_visit(request: SignedIn, pk: str) -> Visit:
    return fetch(Visit.objects.select_related("job__site"), request.user, pk=pk)


def job_url(job_id: object) -> str:
    return reverse("job", args=[job_id])


@needs(Right.OFFICE)
def visit_new(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job, request.user, pk=pk)
    return fill_in(
        request,
        blank(request, NeedsForm),
        partial(services.add_visit, job=job, by=request.user),
        what=_("One more visit"),
        done=_("The visit is added, last in order."),
        back=job_url(job.pk),
        trail=trail(job),
    )


@needs(Right.OFFICE)
def visit_change(request: SignedIn, pk: str) -> HttpResponse:
    visit = the_visit(request, pk)
    initial = {name: getattr(visit, name) for name in NEEDS}
    return fill_in(
        request,
        blank(request, ChangeVisitForm, initial=initial),
        partial(services.change_visit, visit=visit, by=request.user),
        what=_("Change the visit “%(visit)s”") % {"visit": visit.name},
        done=_("Changed, for this job only."),
        back=job_url(visit.job_id),
        trail=trail(visit.job),
    )


@needs(Right.OFFICE)
def visit_promise(request: SignedIn, pk: str) -> HttpResponse:
    visit = the_visit(request, pk)
    zone = visit.job.site.zone
    initial = span_of(visit.promised_from, visit.promised_until, zone) | {"rev": visit.rev}
    return fill_in(
        request,
        blank(request, PromiseForm, initial=initial, zone=zone),
        partial(services.promise_arrival, visit=visit, by=request.user, now=timezone.now()),
        what=_("Arrival promised for “%(visit)s”") % {"visit": visit.name},
        done=_("The promise is kept with the visit."),
        back=job_url(visit.job_id),
        trail=trail(visit.job),
    )


@require_POST
@needs(Right.OFFICE)
def visit_reorder(request: SignedIn, pk: str, way: str) -> HttpResponse:
    visit = the_visit(request, pk)
    services.reorder_visit(visit=visit, earlier=way == "earlier", by=request.user)
    return redirect(f"{job_url(visit.job_id)}#visits")


@require_POST
@needs(Right.OFFICE)
def visit_cancel(request: SignedIn, pk: str) -> HttpResponse:
    visit = the_visit(request, pk)
    services.cancel_visit(visit=visit, by=request.user, now=timezone.now())
    undo = reverse("visit-reinstate", args=[pk])
    say(request, _("“%(visit)s” is cancelled.") % {"visit": visit.name}, undo=undo)
    return redirect(job_url(visit.job_id))


@require_POST
@needs(Right.OFFICE)
def visit_reinstate(request: SignedIn, pk: str) -> HttpResponse:
    visit = services.reinstate_visit(visit=the_visit(request, pk), by=request.user)
    say(request, _("“%(visit)s” waits to be planned.") % {"visit": visit.name})
    return redirect(job_url(visit.job_id))


@require_POST
@needs(Right.OFFICE)
def visit_remove(request: SignedIn, pk: str) -> HttpResponse:
    visit = the_visit(request, pk)
    services.remove_visit(visit=visit, by=request.user)
    say(request, _("“%(visit)s” is struck out.") % {"visit": visit.name})
    return redirect(job_url(visit.job_id))


def the_hold(request: SignedIn, pk: int) -> Hold:
    return fetch(Hold.objects.select_related("visit__job", "inspection"), request.user, pk=pk)


@needs(Right.OFFICE)
def hold_new(request: SignedIn, pk: str) -> HttpResponse:
    visit = the_visit(request, pk)
    return fill_in(
        request,
        blank(request, HoldForm, job=visit.job),
        partial(services.add_hold, visit=visit, by=request.user),
        what=_("What else “%(visit)s” waits for") % {"visit": visit.name},
        done=_("The visit waits for it."),
        back=job_url(visit.job_id),
        trail=trail(visit.job),
    )


@needs(Right.OFFICE)
def hold_change(request: SignedIn, pk: int) -> HttpResponse:
    hold = the_hold(request, pk)
    names = ("label", "inspection", "expected_on")
    initial = {name: getattr(hold, name) for name in names}
    return fill_in(
        request,
        blank(request, HoldForm, job=hold.visit.job, hold=hold, initial=initial),
        partial(services.change_hold, hold=hold, by=request.user),
        what=_("Waits for: %(what)s") % {"what": hold.get_kind_display()},
        done=_("Changed."),
        instead=(reverse("hold-remove", args=[pk]), _("It need not wait for this")),
        back=job_url(hold.visit.job_id),
        trail=trail(hold.visit.job),
    )


@needs(Right.OFFICE)
def hold_release(request: SignedIn, pk: int) -> HttpResponse:
    hold = the_hold(request, pk)
    what = queries.waiting_for(hold)
    return fill_in(
        request,
        blank(request, ReleaseForm),
        partial(services.release_hold, hold=hold, by=request.user, now=timezone.now()),
        what=_("Release: %(what)s") % {"what": what},
        action=_("Release"),
        done=_("Released: %(what)s.") % {"what": what},
        undo=reverse("hold-again", args=[pk]),
        back=back_to(request, job_url(hold.visit.job_id)),
        trail=trail(hold.visit.job),
    )


@require_POST
@needs(Right.OFFICE)
def hold_again(request: SignedIn, pk: int) -> HttpResponse:
    hold = services.unrelease_hold(hold=the_hold(request, pk), by=request.user)
    say(request, _("The visit waits for it again: %(what)s.") % {"what": queries.waiting_for(hold)})
    return redirect(job_url(hold.visit.job_id))


@require_POST
@needs(Right.OFFICE)
def hold_remove(request: SignedIn, pk: int) -> HttpResponse:
    hold = the_hold(request, pk)
    services.remove_hold(hold=hold, by=request.user)
    say(
        request, _("The visit no longer waits for: %(what)s.") % {"what": queries.waiting_for(hold)}
    )
    return redirect(job_url(hold.visit.job_id))
