"""Which customers and sites are there, and which of them is meant?"""

from __future__ import annotations

import re
import uuid
from typing import Any

from django.db.models import Count, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce

from contractor.access import visible
from contractor.models import Customer, Merge, Person, Site


def customers(asked: str = "") -> QuerySet[Customer]:
    """Every customer, or those meant by part of a name, street, phone number or e-mail address;
    where nothing holds these letters, names that look alike."""
    rows = Customer.objects.annotate(
        site_count=Coalesce(Subquery(_sites_counted()), Value(0))
    ).order_by("name", "pk")
    asked = _words(asked)
    if not asked:
        return rows
    found = rows.filter(_meant(asked))
    if found.exists():
        return found
    return rows.filter(name__trigram_similar=asked)


def sites(person: Person, asked: str = "") -> QuerySet[Site]:
    """Every site this person may see, or those meant."""
    rows = visible(Site.objects.all(), person)
    rows = rows.select_related("customer", "authority").order_by("street", "city", "pk")
    asked = _words(asked)
    if not asked:
        return rows
    meant = Q(label__icontains=asked) | Q(customer__name__icontains=asked) | Q(zip=asked)
    meant |= Q(street__icontains=asked) | Q(city__icontains=asked)
    if digits := _digits(asked):
        meant |= Q(customer__phone__contains=digits)
    found = rows.filter(meant)
    return found if found.exists() else rows.filter(street__trigram_similar=asked)


def merged_into(dropped_id: uuid.UUID) -> Customer | None:
    """The customer that a merged one lives on in."""
    merge = Merge.objects.filter(dropped_id=dropped_id).select_related("kept").first()
    return merge.kept if merge else None


def _meant(asked: str) -> Q:
    by_site = Site.objects.filter(Q(street__icontains=asked) | Q(label__icontains=asked))
    meant = Q(name__icontains=asked) | Q(email__icontains=asked) | Q(street__icontains=asked)
    meant |= Q(list_key__iexact=asked) | Q(pk__in=by_site.values("customer"))
    if digits := _digits(asked):
        meant |= Q(phone__contains=digits)
    return meant


def _words(asked: str) -> str:
    """What was asked for, without what no text in the database can hold."""
    return asked.replace("\0", "").strip()


def _digits(asked: str) -> str:
    """The digits of what may be part of a phone number: four or more, and no letters."""
    digits = re.sub(r"\D", "", asked)
    return digits if len(digits) >= 4 and not re.search(r"[a-z]", asked, re.IGNORECASE) else ""


def _sites_counted() -> QuerySet[Any, Any]:
    mine = Site.objects.filter(customer=OuterRef("pk")).order_by().values("customer")
    return mine.annotate(number=Count("pk")).values("number")
