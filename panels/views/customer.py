"""The customer's page: every panel of the home, readable on a phone, without an account."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from contractor.by_link import by_link
from contractor.models import CustomerLink
from panels.services import customer, directory, papers
from panels.views.directory import pdf

behind_link = by_link(CustomerLink.Purpose.DOOR, CustomerLink.Purpose.MAIL)


@behind_link
@require_safe
def page(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    wanted = request.GET.get("q", "").strip()[:80]
    home = customer.home_of(link.site, wanted=wanted, first=link.subject)
    return render(request, "panels/customer.html", {"home": home, "link": link, "wanted": wanted})


@behind_link
@require_safe
def directories(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    revisions = directory.in_force(link.site)
    if not revisions:
        raise Http404
    return pdf(papers.home(revisions, now=timezone.now()), _("panel-directories") + ".pdf")
