"""The lines of one job's close-out list, as the office sets them."""

from __future__ import annotations

from functools import partial

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_GET, require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.notices import say
from jobs.forms.visits import ChangeLineForm, LineForm, line_answers
from jobs.models import CloseOutLine, Job
from jobs.services import close_out_list as services
from jobs.views.filling import ask_first, blank, fill_in, trail


def list_url(job_id: object) -> str:
    return reverse("close-out-list", args=[job_id])


def the_line(request: SignedIn, pk: str) -> CloseOutLine:
    return fetch(CloseOutLine.objects.select_related("job"), request.user, pk=pk)


@require_GET
@needs(Right.OFFICE)
def close_out_list(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job.objects.select_related("site"), request.user, pk=pk)
    way = [*trail(job), (_("Close-out list"), "")]
    page = {"job": job, "lines": job.close_out.all(), "trail": way}
    return render(request, "jobs/close_out_list.html", page)


@needs(Right.OFFICE)
def line_new(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job, request.user, pk=pk)
    return fill_in(
        request,
        blank(request, LineForm),
        partial(services.add_line, job=job, by=request.user),
        what=_("One more line"),
        done=_("The line is on the list."),
        back=list_url(pk),
        trail=[*trail(job), (_("Close-out list"), list_url(pk))],
    )


@needs(Right.OFFICE)
def line_change(request: SignedIn, pk: str) -> HttpResponse:
    line = the_line(request, pk)
    return fill_in(
        request,
        blank(request, ChangeLineForm, initial=line_answers(line)),
        partial(services.change_line, line=line, by=request.user),
        what=_("Change a line"),
        done=_("Changed, for this job only."),
        back=list_url(line.job_id),
        trail=[*trail(line.job), (_("Close-out list"), list_url(line.job_id))],
    )


@require_POST
@needs(Right.OFFICE)
def line_reorder(request: SignedIn, pk: str, way: str) -> HttpResponse:
    line = the_line(request, pk)
    services.reorder_line(line=line, earlier=way == "earlier", by=request.user)
    return redirect(list_url(line.job_id))


@needs(Right.OFFICE)
def line_remove(request: SignedIn, pk: str) -> HttpResponse:
    line = the_line(request, pk)
    if request.method == "POST":
        services.remove_line(line=line, by=request.user)
        say(request, _("“%(line)s” is off the list.") % {"line": line.label})
        return redirect(list_url(line.job_id))
    what = _("Take “%(line)s” off the list?") % {"line": line.label}
    lines = [_("Only this job is closed without it; its kind keeps the line.")]
    return ask_first(request, what, lines=lines, back=list_url(line.job_id))
