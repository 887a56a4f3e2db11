"""Customers: the list, each of them, and the list as a file."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.places import CustomerForm
from contractor.models import Customer
from contractor.queries import customers as queries
from contractor.queries.duplicates import likely_twins
from contractor.services import customers as services

PER_PAGE = 50


@needs(Right.OFFICE)
def customers(request: SignedIn) -> HttpResponse:
    asked = request.GET.get("q", "")[:100]
    found = Paginator(queries.customers(asked), PER_PAGE).get_page(request.GET.get("page"))
    return render(request, "contractor/customers.html", {"page": found, "asked": asked})


@needs(Right.OFFICE)
def customer(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = Customer.objects.filter(pk=pk).first()
    if found is None:
        kept = queries.merged_into(pk)
        if kept is None:
            raise Http404
        return redirect("customer", kept.pk)
    context = {
        "customer": found,
        "sites": found.sites.select_related("authority", "utility"),
        "twins": likely_twins(found),
    }
    return render(request, "contractor/customer.html", context)


@needs(Right.OFFICE)
def add_customer(request: SignedIn) -> HttpResponse:
    form = CustomerForm(request.POST or None)
    by, now = request.user, timezone.now()
    added = attempt(form, lambda _v: services.add_customer(values=form.values, by=by, now=now))
    if added is None:
        return page(request, "contractor/customer_form.html", form)
    messages.success(request, _("%s is added. Now add the site where the work is.") % added)
    return redirect("customer", added.pk)


@needs(Right.OFFICE)
def change_customer(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Customer, pk=pk)
    form = CustomerForm(request.POST or None, instance=found)

    def save(values: dict[str, Any]) -> Customer:
        rev = values.get("rev") or 0
        return services.change_customer(
            customer=found, values=form.values, by=request.user, rev=rev
        )

    if attempt(form, save):
        messages.success(request, _("%s is saved.") % form.instance)
        return redirect("customer", pk)
    return page(
        request, "contractor/customer_form.html", form, customer=Customer.objects.get(pk=pk)
    )


@needs(Right.OFFICE)
def remove_customer(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Customer, pk=pk)
    back = reverse("customer", args=[pk])
    if request.method == "POST":
        services.remove_customer(customer=found, by=request.user, rev=None)
        messages.success(request, _("%s is removed. The history keeps what was there.") % found)
        return redirect("customers")
    context: dict[str, Any] = {"what": _("Remove %s?") % found, "action": _("Remove"), "back": back}
    context |= {"lines": [_("Only a customer without sites can be removed.")], "is_danger": True}
    return render(request, "contractor/confirm.html", context)
