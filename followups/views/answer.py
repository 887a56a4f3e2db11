"""The customer's answer: a link in a mail opens it, one press sends it, nobody signs in."""

from __future__ import annotations

from collections.abc import Iterable

from django.contrib import messages
from django.core.files.base import File
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods, require_safe

from contractor.by_link import by_link
from contractor.errors import Refused
from contractor.guesses import Guesses
from contractor.models import CustomerLink
from contractor.services.pictures import Picture, store_picture
from followups.forms import AnswerForm
from followups.queries import replies
from followups.services import letters
from followups.services.answers import MOST_PHOTOS, give_answer

ANSWERS = Guesses("answers-by-one-link", limit=20, minutes=60)


# The address is the only key there is: no cookie speaks for the customer, so none is asked for
# against forgery, and mail programs that keep no cookies can still send the answer.
@csrf_exempt
@require_http_methods(["GET", "HEAD", "POST"])
@by_link(CustomerLink.Purpose.ANSWER)
def page(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    """GET only shows: mail scanners follow links, and must not answer for anyone."""
    if request.method == "POST":
        form = AnswerForm(request.POST, request.FILES)
        if form.is_valid():
            _send(request, link, form)
            return redirect("answer-sent", link.token)
    else:
        form = AnswerForm.blank(request.GET.get("a", ""))
    status = 422 if form.errors else 200
    return _show(request, "followups/answer.html", link, status, form=form)


@require_safe
@by_link(CustomerLink.Purpose.ANSWER)
def sent(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    return _show(request, "followups/answer_sent.html", link)


def _show(
    request: HttpRequest, template: str, link: CustomerLink, status: int = 200, **more: object
) -> HttpResponse:
    check_in = replies.check_in_of(link)
    said = list(replies.replies_by(link)[:5])
    job = check_in.job if check_in else None
    context = {
        "link": link,
        "job": job,
        "said": said,
        "last": said[0] if said else None,
        "danger": letters.danger(),
        **more,
    }
    return render(request, template, context, status=status)


def _send(request: HttpRequest, link: CustomerLink, form: AnswerForm) -> None:
    ANSWERS.check(str(link.pk))
    ANSWERS.count(str(link.pk))
    give_answer(
        link=link,
        answer=form.cleaned_data["answer"],
        text=form.cleaned_data["text"],
        photos=_kept(request, form.cleaned_data["photos"]),
        reply_id=form.cleaned_data["id"],
        now=timezone.now(),
    )


def _kept(request: HttpRequest, files: Iterable[File]) -> list[Picture]:
    """The pictures we can read; an answer is never refused for one we cannot."""
    kept: list[Picture] = []
    for file in files:
        if len(kept) == MOST_PHOTOS:
            messages.warning(request, _("Six pictures came with your answer; the rest did not."))
            break
        try:
            kept.append(store_picture(file))
        except Refused as refusal:
            messages.warning(request, f"{str(file.name)[:60]}: {refusal.sentence}")
    return kept
