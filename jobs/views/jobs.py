"""The list of jobs, booking one, and the page of one."""

from __future__ import annotations

from functools import partial

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_GET, require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.models import Customer, Site
from contractor.notices import say
from contractor.queries.customers import sites
from jobs import queries, services
from jobs.forms.booking import BookForm, CancelForm, FindJobs, JobForm
from jobs.models import Job
from jobs.pages import job_page, sections
from jobs.views.filling import blank, fill_in, trail

PER_PAGE = 50


@require_GET
@needs(Right.FIELD)
def jobs(request: SignedIn) -> HttpResponse:
    form = FindJobs(request.GET or None)
    wanted = FindJobs(request.GET).wanted()
    found = queries.jobs(request.user, **wanted)
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    rows = [(job, queries.step_in_words(job)) for job in page]
    filtered = any(wanted[name] for name in ("words", "kind", "step"))
    return render(
        request,
        "jobs/jobs.html",
        {"form": form, "page": page, "rows": rows, "wanted": wanted, "filtered": filtered},
    )


@needs(Right.OFFICE)
def job_new(request: SignedIn) -> HttpResponse:
    """First the site, then what is to be done there."""
    site = request.GET.get("site")
    return _book(request, fetch(Site, request.user, pk=site)) if site else _choose_site(request)


def _choose_site(request: SignedIn) -> HttpResponse:
    words = request.GET.get("q", "")
    found = sites(request.user, words)
    if customer := request.GET.get("customer"):
        found = found.filter(customer=fetch(Customer, request.user, pk=customer))
    shown = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    page = {"words": words, "page": shown, "trail": [*trail(), (_("Book a job"), "")]}
    return render(request, "jobs/choose_site.html", page)


def _book(request: SignedIn, site: Site) -> HttpResponse:
    form = blank(request, BookForm)
    book = partial(services.book_job, site=site, by=request.user, now=timezone.now())
    if request.method == "POST" and form.is_valid() and form.try_to(book):
        say(request, _("Job %(number)d is booked.") % {"number": form.result.number})
        return redirect("job", form.result.pk)
    page = {
        "form": form,
        "site": site,
        "cells": [(_("Customer"), site.customer.name)],
        "trail": [*trail(), (_("Book a job"), "")],
    }
    return render(request, "jobs/book.html", page, status=422 if form.errors else 200)


@require_GET
@needs(Right.FIELD)
def job(request: SignedIn, pk: str) -> HttpResponse:
    found = queries.job_page(request.user, pk=pk)
    page = job_page(found, request.user)
    page["trail"] = [*trail(), (str(found.number), "")]
    page["sections"] = [
        render_to_string(section.template, section.context, request)
        for section in sections(found, request.user)
    ]
    return render(request, "jobs/job.html", page)


@needs(Right.OFFICE)
def job_change(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job, request.user, pk=pk)
    initial = {"title": job.title, "scope": job.scope, "rev": job.rev}
    return fill_in(
        request,
        blank(request, JobForm, initial=initial),
        partial(services.change_job, job=job, by=request.user),
        what=_("Change what is to be done"),
        done=_("Changed."),
        back=reverse("job", args=[job.pk]),
        trail=trail(job),
    )


@needs(Right.OFFICE)
def job_cancel(request: SignedIn, pk: str) -> HttpResponse:
    job = fetch(Job.objects.select_related("site"), request.user, pk=pk)
    form, back = blank(request, CancelForm, initial={"rev": job.rev}), reverse("job", args=[pk])
    if (
        request.method == "POST"
        and form.is_valid()
        and form.try_to(partial(services.cancel_job, job=job, by=request.user, now=timezone.now()))
    ):
        undo = reverse("job-reinstate", args=[pk])
        say(request, _("Job %(number)d is cancelled.") % {"number": job.number}, undo=undo)
        return redirect(back)
    page = {
        "what": _("Cancel job %(number)d?") % {"number": job.number},
        "where": job.site.address,
        "lines": [_("Its visits come off the plan and their crews are free. Nothing is deleted.")],
        "action": _("Cancel the job"),
        "form": form,
        "back": back,
        "is_danger": True,
    }
    return render(request, "contractor/confirm.html", page, status=422 if form.errors else 200)


@require_POST
@needs(Right.OFFICE)
def job_reinstate(request: SignedIn, pk: str) -> HttpResponse:
    job = services.reinstate_job(job=fetch(Job, request.user, pk=pk), by=request.user)
    say(request, _("The job is on again. Its visits wait to be planned."))
    return redirect("job", job.pk)
