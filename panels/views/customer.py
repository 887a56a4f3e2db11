"""The customer's page: every panel of the home, readable on a phone, without an account."""

from __future__ import annotations

from functools import wraps

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from contractor.access import View, open_to_all
from contractor.models import CustomerLink
from contractor.services.links import LinkOver, NoSuchLink, open_link
from panels.services import customer, directory, papers
from panels.views.directory import pdf

PURPOSES = (CustomerLink.Purpose.DOOR, CustomerLink.Purpose.MAIL)


def behind_link(view: View) -> View:
    """Open the page with the link in its address; a link that is over gets one friendly page.

    Whoever holds the address reads the page, so nothing keeps it, passes it on or lists it.
    """

    @open_to_all
    @require_safe
    @never_cache
    @wraps(view)
    def opened(request: HttpRequest, token: str) -> HttpResponse:
        try:
            link = open_link(token=token, purposes=PURPOSES, now=timezone.now())
            answer = view(request, link)
        except (NoSuchLink, LinkOver) as over:
            answer = render(request, "panels/customer_closed.html", status=over.status)
        answer["Cache-Control"] = "no-store, private"
        answer["Referrer-Policy"] = "no-referrer"
        answer["X-Robots-Tag"] = "noindex, nofollow"
        return answer

    return opened


@behind_link
def page(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    wanted = request.GET.get("q", "").strip()[:80]
    home = customer.home_of(link.site, wanted=wanted, first=link.subject)
    return render(request, "panels/customer.html", {"home": home, "link": link, "wanted": wanted})


@behind_link
def directories(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    revisions = directory.in_force(link.site)
    if not revisions:
        raise Http404
    return pdf(papers.home(revisions, now=timezone.now()), _("panel-directories") + ".pdf")
