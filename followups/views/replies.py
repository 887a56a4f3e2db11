"""What customers answered: questions to be answered, praise to be passed on, silence."""

from __future__ import annotations

import uuid

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.notices import say
from contractor.views.pictures import picture_response
from followups.forms import WordsForm
from followups.models import Reply, ReplyPhoto
from followups.queries import replies as queries
from followups.services import answers, praise

A_PAGE = 50
HOW = gettext_lazy("What you told them, and how")


@needs(Right.OFFICE)
@require_safe
def index(request: SignedIn) -> HttpResponse:
    """Questions waiting; with `show` all answers, or the check-ins nobody answered."""
    now = timezone.now()
    lists = {
        "waiting": queries.questions_waiting,
        "all": queries.replies,
        "silent": lambda: queries.check_ins_unanswered(now),
    }
    show = request.GET.get("show", "waiting")
    show = show if show in lists else "waiting"
    page = Paginator(lists[show](), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "followups/replies.html", {"page": page, "show": show})


@needs(Right.OFFICE)
def one(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """An answer with its pictures; for a question, what the customer was told."""
    reply = fetch(queries.replies(), request.user, pk=pk)
    form = WordsForm(request.POST or None, label=HOW, required=False)
    if request.method == "POST" and form.is_valid():
        answers.mark_answered(
            reply=reply, how=form.cleaned_data["words"], by=request.user, now=timezone.now()
        )
        say(request, _("Marked as answered."), undo=reverse("reply-waiting", args=[pk]))
        return redirect("replies")
    return render(
        request,
        "followups/reply.html",
        {"reply": reply, "form": form},
        status=422 if form.errors else 200,
    )


@needs(Right.OFFICE)
@require_POST
def waiting(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    answers.mark_waiting(reply=fetch(Reply, request.user, pk=pk), by=request.user)
    say(request, _("The question waits for an answer again."))
    return redirect("reply", pk)


@needs(Right.OFFICE)
@require_POST
def pass_on(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """Praise in an answer that did not reach the crew by itself."""
    reply = fetch(Reply.objects.select_related("job__site__customer"), request.user, pk=pk)
    given = praise.pass_on(
        job=reply.job, text=reply.text, reply=reply, by=request.user, now=timezone.now()
    )
    names = ", ".join(str(thanks.person) for thanks in given)
    say(request, _("Passed on to %(names)s.") % {"names": names} if names else _("They had it."))
    return redirect("reply", pk)


@needs(Right.SIGNED_IN)
@require_safe
def photo(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    picture = fetch(ReplyPhoto, request.user, pk=pk)
    return picture_response(picture.sha256, small="small" in request.GET)
