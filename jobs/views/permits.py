"""The permits of jobs: the list, and what the authority said about each."""

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
from jobs.forms.permits import ApplyForm, AuthorityForm, ExtendForm, FinalForm, IssueForm
from jobs.models import Job, Permit
from jobs.models.kinds import choices
from jobs.planning.words import PermitState
from jobs.views.filling import at_once, blank, fill_in, fill_in_of, trail

PER_PAGE = 50


@require_GET
@needs(Right.OFFICE)
def permits(request: SignedIn) -> HttpResponse:
    """Open permits; `lapsing` narrows to those good for at most so many days more."""
    days, state = request.GET.get("lapsing", ""), request.GET.get("state", "")
    found = queries.permits()
    if days.isdecimal() and len(days) < 5:
        found = queries.permits_lapsing(timezone.localdate(), int(days))
    elif state in list(PermitState):
        found = found.filter(state=state)
    else:
        found = found.exclude(state__in=[PermitState.FINALED, PermitState.CANCELLED])
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "days": days, "state": state, "today": timezone.localdate()}
    context["states"] = choices(PermitState)
    context["lapsing"] = queries.permits_lapsing(timezone.localdate(), 30).count()
    return render(request, "jobs/permits.html", context)


def the_permit(request: SignedIn, pk: int) -> Permit:
    return fetch(Permit.objects.select_related("job__site"), request.user, pk=pk)


@needs(Right.OFFICE)
def permit_new(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job.objects.select_related("site"), request.user, pk=pk)
    return fill_in(
        request,
        blank(request, AuthorityForm, initial={"authority": job.site.authority_id}),
        partial(services.add_permit, job=job, by=request.user),
        what=_("One more permit"),
        done=_("The job needs this permit too."),
        back=reverse("job", args=[pk]),
        trail=trail(job),
    )


@needs(Right.OFFICE)
def permit_apply(request: SignedIn, pk: int) -> HttpResponse:
    permit = the_permit(request, pk)
    authority = permit.authority_id or permit.job.site.authority_id
    initial = {"authority": authority, "on": permit.applied_on or timezone.localdate()}
    return fill_in_of(
        request,
        permit,
        blank(request, ApplyForm, initial=initial),
        partial(services.apply_for_permit, permit=permit, by=request.user),
        what=_("Permit applied for"),
        done=_("The application is noted."),
    )


@needs(Right.OFFICE)
def permit_issue(request: SignedIn, pk: int) -> HttpResponse:
    permit = the_permit(request, pk)
    initial = {
        "number": permit.number,
        "on": permit.issued_on or timezone.localdate(),
        "authority": permit.authority_id or permit.job.site.authority_id,
    }
    return fill_in_of(
        request,
        permit,
        blank(request, IssueForm, initial=initial),
        partial(services.issue_permit, permit=permit, by=request.user, now=timezone.now()),
        what=_("Permit issued"),
        done=_("The permit is on the job. Visits that waited for it are free."),
        undo=reverse("permit-take-back", args=[pk]),
    )


@needs(Right.OFFICE)
def permit_extend(request: SignedIn, pk: int) -> HttpResponse:
    permit = the_permit(request, pk)
    return fill_in_of(
        request,
        permit,
        blank(request, ExtendForm, initial={"on": permit.expires_on}),
        partial(services.extend_permit, permit=permit, by=request.user),
        what=_("Permit %(number)s extended") % {"number": permit.number},
        done=_("The permit is good longer."),
    )


@needs(Right.OFFICE)
def permit_final(request: SignedIn, pk: int) -> HttpResponse:
    permit = the_permit(request, pk)
    return fill_in_of(
        request,
        permit,
        blank(request, FinalForm, initial={"on": timezone.localdate()}),
        partial(services.final_permit, permit=permit, by=request.user),
        what=_("Permit %(number)s finaled") % {"number": permit.number},
        done=_("The permit is finaled."),
        undo=reverse("permit-reopen", args=[pk]),
    )


_at_once = partial(at_once, "permit", the_permit)
permit_take_back = _at_once(services.take_back_issue, _("The permit counts as not issued."))
permit_reopen = _at_once(services.reopen_permit, _("The permit is open again."))
permit_cancel = _at_once(services.cancel_permit, _("The permit is cancelled."), "permit-reopen")
