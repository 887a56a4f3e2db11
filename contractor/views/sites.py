"""Sites: the list, each of them with what the other rooms know there, and its links."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor import places, queries, sections
from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.places import SiteForm
from contractor.models import Customer, CustomerLink, Site
from contractor.queries.customers import sites as sites_for
from contractor.queries.links import links_of
from contractor.services import links
from contractor.services import sites as services

PER_PAGE = 50
WITH = ("customer", "authority", "utility")


@needs(Right.FIELD)
def sites(request: SignedIn) -> HttpResponse:
    asked = request.GET.get("q", "")[:100]
    found = Paginator(sites_for(request.user, asked), PER_PAGE).get_page(request.GET.get("page"))
    return render(request, "contractor/sites.html", {"page": found, "asked": asked})


@needs(Right.FIELD)
def site(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = fetch(Site.objects.select_related(*WITH), request.user, pk=pk)
    context: dict[str, Any] = {
        "site": found,
        "parts": [
            render_to_string(section.template, section.context, request)
            for section in sections.for_site(found, request.user)
        ],
        "now": timezone.now(),
    }
    if request.user.is_office:
        context["links"] = links_of(found)
    return render(request, "contractor/site.html", context)


@needs(Right.OFFICE)
def add_site(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    customer = get_object_or_404(Customer, pk=pk)
    form = SiteForm(request.POST or None, firm=queries.firm(), initial=_first_address(customer))
    by, now = request.user, timezone.now()
    added = attempt(
        form, lambda _v: services.add_site(customer=customer, values=form.values, by=by, now=now)
    )
    if added is None:
        return page(request, "contractor/site_form.html", form, customer=customer)
    messages.success(request, _("The site is added."))
    _say_doubts(request, added)
    return redirect("site", added.pk)


@needs(Right.OFFICE)
def change_site(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Site.objects.select_related("customer"), pk=pk)
    form = SiteForm(request.POST or None, instance=found)

    def save(values: dict[str, Any]) -> Site:
        rev = values.get("rev") or 0
        return services.change_site(site=found, values=form.values, by=request.user, rev=rev)

    saved = attempt(form, save)
    if saved is None:
        return page(request, "contractor/site_form.html", form, customer=found.customer, site=found)
    messages.success(request, _("The site is saved."))
    _say_doubts(request, saved)
    return redirect("site", pk)


@needs(Right.OFFICE)
def remove_site(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Site, pk=pk)
    if request.method == "POST":
        services.remove_site(site=found, by=request.user, rev=None)
        messages.success(request, _("The site is removed. The history keeps what was there."))
        return redirect("customer", found.customer_id)
    context = {"what": _("Remove this site?"), "where": found, "action": _("Remove")}
    context |= {"lines": [_("Only a site without jobs and panels can be removed.")]}
    context |= {"back": reverse("site", args=[pk]), "is_danger": True}
    return render(request, "contractor/confirm.html", context)


@needs(Right.OFFICE)
def revoke_link(request: SignedIn, pk: uuid.UUID, link: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(CustomerLink, pk=link, site=pk)
    if request.method == "POST":
        links.revoke_link(link=found, by=request.user, now=timezone.now())
        messages.success(request, _("The link is taken back. It opens nothing any more."))
        return redirect("site", pk)
    context = {"what": _("Take this link back?"), "where": found.site, "action": _("Take it back")}
    context |= {"lines": [_revoking(found)], "back": reverse("site", args=[pk]), "is_danger": True}
    return render(request, "contractor/confirm.html", context)


def _revoking(link: CustomerLink) -> str:
    if link.purpose == CustomerLink.Purpose.DOOR:
        return _("The code on the panel door stops opening the page. Print the directory again.")
    return _("Whoever has it cannot open the page any more. A new mail makes a new link.")


def _first_address(customer: Customer) -> dict[str, str]:
    """A homeowner's bill mostly goes where the panel is: the first site starts from there."""
    if customer.sites.exists():
        return {}
    return {name: getattr(customer, name) for name in ("street", "city", "state", "zip")}


def _say_doubts(request: HttpRequest, site: Site) -> None:
    for doubt in places.doubts(city=site.city, state=site.state, zip_code=site.zip):
        messages.warning(request, doubt)
