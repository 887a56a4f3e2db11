"""The directory's page and papers: what is issued, what has changed since, and the prints."""

from __future__ import annotations

from uuid import UUID

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, may, needs
from contractor.models import CustomerLink, Site
from contractor.notices import say
from contractor.queries.links import standing_link
from contractor.services.links import link_for, revoke_link
from panels.models import DirectoryRevision, Panel
from panels.services import directory, papers
from panels.views.panels import trail_to

PANELS = Panel.objects.select_related("site")
REVISIONS = DirectoryRevision.objects.select_related("panel__site", "issued_by")
DOOR = CustomerLink.Purpose.DOOR


@require_safe
@needs(Right.SIGNED_IN)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    now = timezone.now()
    revisions = directory.history(panel)
    found = directory.differences_from(revisions[0].revision, panel) if revisions else []
    context = {
        "panel": panel,
        "revisions": revisions,
        "latest": revisions[0].revision if revisions else None,
        "differences": found,
        "next_number": len(revisions) + 1,
        "code": standing_link(site=panel.site, purpose=DOOR, subject=panel.pk, now=now),
        "may_issue": may(request.user, Right.FIELD) and panel.retired_at is None,
        "may_end_code": may(request.user, Right.OFFICE),
        "trail": trail_to(panel, _("Directory")),
    }
    return render(request, "panels/directory.html", context)


@require_POST
@needs(Right.FIELD)
def issue(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    before = directory.latest(panel)
    made = directory.issue_directory(panel=panel, by=request.user, now=timezone.now())
    if before == made:
        say(request, _("Nothing has changed; revision %(n)s still stands.") % {"n": made.number})
    else:
        say(
            request,
            _("Revision %(n)s is issued. Print it and change the card.") % {"n": made.number},
        )
    return redirect("directory", pk=panel.pk)


@require_POST
@needs(Right.OFFICE)
def new_code(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    link_for(site=panel.site, purpose=DOOR, subject=panel.pk, now=timezone.now())
    say(request, _("The panel has a code. Print the card again: it is on it."))
    return redirect("directory", pk=panel.pk)


@require_POST
@needs(Right.OFFICE)
def end_code(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    now = timezone.now()
    link = standing_link(site=panel.site, purpose=DOOR, subject=panel.pk, now=now)
    if link:
        revoke_link(link=link, by=request.user, now=now)
    say(request, _("The code on the door no longer opens anything. Print the card again."))
    return redirect("directory", pk=panel.pk)


@gzip_page
@require_safe
@needs(Right.SIGNED_IN)
def preview(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    return _picture(papers.preview(panel, by=request.user, now=timezone.now()))


@gzip_page
@require_safe
@needs(Right.SIGNED_IN)
def picture(request: SignedIn, pk: UUID) -> HttpResponse:
    revision = fetch(REVISIONS, request.user, pk=pk)
    return _picture(papers.picture(revision, now=timezone.now()))


@require_safe
@needs(Right.SIGNED_IN)
def letter(request: SignedIn, pk: UUID) -> HttpResponse:
    revision = fetch(REVISIONS, request.user, pk=pk)
    return pdf(papers.letter(revision, now=timezone.now()), _file_name(revision, "letter"))


@require_safe
@needs(Right.SIGNED_IN)
def card(request: SignedIn, pk: UUID) -> HttpResponse:
    revision = fetch(REVISIONS, request.user, pk=pk)
    return pdf(papers.card(revision, now=timezone.now()), _file_name(revision, "card"))


@require_safe
@needs(Right.SIGNED_IN)
def whole_site(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(Site, request.user, pk=pk)
    made = papers.home(directory.in_force(site), now=timezone.now())
    return pdf(made, f"{slugify(site.street)}-directories.pdf")


@require_http_methods(["GET", "HEAD", "POST"])
@needs(Right.OFFICE)
def customer_link(request: SignedIn, pk: UUID) -> HttpResponse:
    """The address to give to the customer; a POST makes it."""
    site = fetch(Site.objects.select_related("customer"), request.user, pk=pk)
    now = timezone.now()
    if request.method == "POST":
        link_for(site=site, purpose=CustomerLink.Purpose.MAIL, now=now)
        return redirect("customer-link", pk=site.pk)
    context = {
        "site": site,
        "link": standing_link(site=site, purpose=CustomerLink.Purpose.MAIL, now=now),
        "host": settings.SITE_URL,
        "trail": [(str(site), reverse("site", args=[site.pk])), (_("Customer’s page"), "")],
    }
    return render(request, "panels/customer_link.html", context)


def pdf(made: bytes, name: str) -> HttpResponse:
    """Shown in the browser; saved under a name that says what it is."""
    answer = HttpResponse(made, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    answer["Cache-Control"] = "private, no-cache"
    return answer


def _picture(made: bytes) -> HttpResponse:
    answer = HttpResponse(made, content_type="image/svg+xml")
    answer["Cache-Control"] = "private, no-cache"
    return answer


def _file_name(revision: DirectoryRevision, kind: str) -> str:
    place = slugify(f"{revision.panel.site.street} {revision.panel.name}")
    return f"{place}-rev-{revision.number}-{kind}.pdf"
