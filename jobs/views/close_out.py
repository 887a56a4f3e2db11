"""The close-out list of a job, answered in place; closing, the record, and opening again."""

from __future__ import annotations

import uuid
from functools import partial
from typing import Any
from urllib.parse import urlencode

from django.core import signing
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.notices import say
from jobs.forms.answers import Blanks, blanks
from jobs.forms.field import CloseForm, ReopenForm
from jobs.models import CloseOut, CloseOutLine, Job, Visit
from jobs.planning.close_out import About, Gap
from jobs.planning.words import VisitState
from jobs.queries.close_out import Row, Sheet, sheet, told, visit_at_hand
from jobs.queries.measuring import Used
from jobs.services.close_out import close_job, reopen_job
from jobs.services.measuring import put_back_reading
from jobs.views.answering import STRUCK, answer, with_faults
from jobs.views.filling import Trail, fill_in
from panels.models import Panel

JOBS = Job.objects.select_related("site__customer", "kind")
LINES = CloseOutLine.objects.select_related("job__site")


def trail(job: Job, *more: tuple[Any, str]) -> Trail:
    return [(str(job.number), reverse("job", args=[job.pk])), *more]


@require_GET
@needs(Right.FIELD)
def close_out(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(JOBS, request.user, pk=pk)
    found = sheet(job)
    used = Used(job.site, request.user)
    chosen = _panel(request, used, request.GET.get("panel"))
    opened = request.GET.get("line") or (str(found.next_row.line.pk) if found.next_row else "")
    rows = [
        (row, blanks(row, found, used, panel=chosen if str(row.line.pk) == opened else None))
        for row in found.rows
    ]
    context = {**_common(request, found), "rows": rows, "opened": opened}
    return render(request, "jobs/field/close_out.html", context)


def _common(request: SignedIn, found: Sheet) -> dict[str, Any]:
    visit = visit_at_hand(found.job, request.user)
    return {
        "sheet": found,
        "job": found.job,
        "cells": cells(found.job),
        "site": found.job.site,
        "visit": visit,
        "leaving": visit if visit and visit.state == VisitState.UNDER_WAY else None,
        "blocking": _blocking(found, visit),
        "notices": [told(gap) for gap in found.notices],
        "trail": trail(found.job, (_("Close-out"), "")),
    }


def cells(job: Job) -> list[tuple[str, Any]]:
    return [(_("Job"), job.number), (_("Customer"), job.site.customer.name), (_("Kind"), job.kind)]


def _panel(request: SignedIn, used: Used, key: str | None) -> Panel | None:
    return next((panel for panel in used.panels if str(panel.pk) == key), None)


@require_http_methods(["GET", "POST"])
@needs(Right.FIELD)
def line(request: SignedIn, pk: str) -> HttpResponse:
    """One line: answered by POST; by GET shown alone, or on its page without script."""
    found = fetch(LINES, request.user, pk=pk)
    page = reverse("close-out", args=[found.job_id])
    if request.method == "GET":
        if request.htmx:
            return _alone(request, found, None, show=request.GET.get("show", "open"))
        asked = {"line": pk, "panel": request.GET.get("panel", "")}
        return redirect(f"{page}?{urlencode(asked)}#line-{pk}")
    fault, stays = answer(request, found)
    if request.htmx or fault:
        return _alone(request, found, fault, show="open" if stays or fault else "next")
    return redirect(f"{page}?line={pk}#line-{pk}" if stays else page)


def _alone(
    request: SignedIn, line: CloseOutLine, fault: dict[str, Any] | None, *, show: str
) -> HttpResponse:
    """The line as it stands now, with what its blanks have to say, and how far the list is.

    `show` is "open", "closed", or "next": closed, and the next one to do open.
    """
    found = sheet(fetch(JOBS, request.user, pk=line.job_id))
    row = next((row for row in found.rows if row.line.pk == line.pk), None)
    if row is None:
        raise Http404
    used = Used(found.job.site, request.user)
    panel = _panel(request, used, request.POST.get("panel") or request.GET.get("panel"))
    made = blanks(row, found, used, panel=panel)
    if fault:
        with_faults(made, fault)
    context = {**_common(request, found), "row": row, "blanks": made, "is_open": show == "open"}
    context["also"] = _next_one(found, used, row) if show == "next" else None
    template = "jobs/field/_answered.html" if request.htmx else "jobs/field/one_line.html"
    return render(request, template, context, status=422 if fault else 200)


def _next_one(found: Sheet, used: Used, done: Row) -> tuple[Row, Blanks] | None:
    """The next line to do opens by itself: one hand, one thing after another."""
    at = found.rows.index(done)
    in_order = [*found.rows[at + 1 :], *found.rows[:at]]
    row = next((row for row in in_order if row.line.required and not row.answered), None)
    return (row, blanks(row, found, used)) if row else None


@require_POST
@needs(Right.FIELD)
def put_back(request: SignedIn, pk: str, facts: str) -> HttpResponse:
    found = fetch(LINES, request.user, pk=pk)
    try:
        known = signing.loads(facts, salt=f"{STRUCK}.{found.pk}", max_age=24 * 3600)
    except signing.BadSignature as error:
        raise Http404 from error
    if known:
        put_back_reading(line=found, facts=known, by=request.user, now=timezone.now())
        say(request, _("The reading is back."))
    return redirect(reverse("close-out", args=[found.job_id]) + f"?line={pk}#line-{pk}")


@needs(Right.FIELD)
def close(request: SignedIn, pk: str) -> HttpResponse:
    """What closing does and what stands in its way, asked once; then it is closed."""
    job = fetch(JOBS, request.user, pk=pk)
    found = sheet(job)
    if found.close_out:
        return redirect("close-out-record", pk)
    context = _common(request, found)
    start = {"rev": job.rev, "close_out_id": uuid.uuid4()}
    form = CloseForm(request.POST or None, initial=start)
    act = partial(close_job, job=job, visit=context["visit"], by=request.user, now=timezone.now())
    if request.method == "POST" and form.is_valid() and form.try_to(act):
        say(request, _("Job %(number)d is closed.") % {"number": job.number})
        return redirect("close-out-record", pk)
    context |= {
        "form": form,
        "to_issue": [panel for panel in found.panels if panel.pending],
        "trail": trail(job, (_("Close-out"), reverse("close-out", args=[pk])), (_("Close"), "")),
    }
    status = 409 if form.errors else 200
    return render(request, "jobs/field/close.html", context, status=status)


def _blocking(found: Sheet, visit: Visit | None) -> list[tuple[Gap, str]]:
    """What closing cannot settle by itself: it issues directories, and ends the visit under way."""
    here = str(visit.pk) if visit and visit.state == VisitState.UNDER_WAY else ""
    settled = [
        gap
        for gap in found.missing
        if gap.about is About.DIRECTORY or (gap.about is About.VISIT and gap.key == here)
    ]
    return [(gap, told(gap)) for gap in found.missing if gap not in settled]


@require_GET
@needs(Right.FIELD)
def record(request: SignedIn, pk: str) -> HttpResponse:
    """What was proved when the job was closed; `?of=` shows an earlier close-out."""
    job = fetch(JOBS, request.user, pk=pk)
    every = CloseOut.objects.filter(job=job).select_related("closed_by", "reopened_by")
    kept = list(every)
    of = request.GET.get("of", "")
    shown = next((row for row in kept if str(row.pk) == of), None) or next(iter(kept), None)
    if shown is None:
        return redirect("close-out", pk)
    context = {
        "job": job,
        "record": shown,
        "proved": shown.proved,
        "cells": cells(job)[:2],
        "others": [row for row in kept if row is not shown],
        "may_reopen": request.user.is_office and shown.reopened_at is None,
        "trail": trail(job, (_("Close-out record"), "")),
    }
    return render(request, "jobs/field/record.html", context)


@needs(Right.OFFICE)
def reopen(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(JOBS, request.user, pk=pk)
    return fill_in(
        request,
        ReopenForm(request.POST or None, initial={"rev": job.rev}),
        partial(reopen_job, job=job, by=request.user, now=timezone.now()),
        what=_("Open job %(number)d again") % {"number": job.number},
        where=job.site.address,
        action=_("Open it again"),
        done=_("The job is open again. Its close-out record stays as it was."),
        back=reverse("close-out", args=[pk]),
        trail=trail(job),
    )
