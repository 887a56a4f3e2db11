"""Praise: read by those who earned it, passed on by the office, seen by the owner."""

from __future__ import annotations

import uuid

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.notices import say
from followups.forms import PraiseForm
from followups.queries import praise as queries
from followups.services import praise
from jobs.models import Job

A_PAGE = 50


@needs(Right.SIGNED_IN)
@require_safe
def index(request: SignedIn) -> HttpResponse:
    page = Paginator(queries.thanks_for(request.user), A_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "unread": queries.unread_thanks(request.user),
        "silent": queries.silent_praise(request.user),
    }
    return render(request, "followups/thanks.html", context)


@needs(Right.SIGNED_IN)
@require_POST
def read(request: SignedIn) -> HttpResponse:
    praise.mark_read(person=request.user, now=timezone.now())
    return redirect("thanks")


@needs(Right.OFFICE)
def of_job(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """Praise that came by telephone or over the counter."""
    job = fetch(Job.objects.select_related("site__customer"), request.user, pk=pk)
    form = PraiseForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        given = praise.pass_on(
            job=job, text=form.cleaned_data["text"], by=request.user, now=timezone.now()
        )
        names = ", ".join(str(thanks.person) for thanks in given)
        say(request, _("Passed on to %(names)s.") % {"names": names})
        return redirect("job", pk)
    context = {"form": form, "job": job, "people": queries.who_did(job)}
    return render(request, "followups/praise.html", context, status=422 if form.errors else 200)
