"""Which customers and sites are there, and which of them is meant?"""

from __future__ import annotations

import re
import uuid
from typing import Any

from django.db.models import Count, OuterRef, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce

from contractor.access import visible
from contractor.models import Customer, Merge, Person, Site
from contractor.queries.ways import any_of


def customers(asked: str = "") -> QuerySet[Customer]:
    """Every customer, or those meant by part of a name, street, phone number or e-mail address;
    where nothing holds these letters, names that look alike."""
    rows = Customer.objects.annotate(
        site_count=Coalesce(Subquery(_sites_counted()), Value(0))
    ).order_by("name", "pk")
    asked = _words(asked)
    if not asked:
        return rows
    found = rows.filter(pk__in=_customers_meant(asked))
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
    found = rows.filter(pk__in=_sites_meant(asked))
    return found if found.exists() else rows.filter(street__trigram_similar=asked)


def merged_into(dropped_id: uuid.UUID) -> Customer | None:
    """The customer that a merged one lives on in."""
    merge = Merge.objects.filter(dropped_id=dropped_id).select_related("kept").first()
    return merge.kept if merge else None


def _customers_meant(asked: str) -> QuerySet[Any, Any]:
    """Each way to mean a customer is asked for alone, so that each finds by its own index."""
    ways: list[dict[str, Any]] = [
        {f"{column}__icontains": asked} for column in ("name", "email", "street")
    ]
    ways += [{"list_key__in": {asked, asked.upper()}}, *_by_digits("phone", asked)]
    by_site = [
        Site.objects.filter(**{f"{column}__icontains": asked}).values("customer")
        for column in ("street", "label")
    ]
    return any_of(*(Customer.objects.filter(**way).values("pk") for way in ways), *by_site)


def _sites_meant(asked: str) -> QuerySet[Any, Any]:
    ways = [
        {f"{column}__icontains": asked} for column in ("street", "label", "city", "customer__name")
    ]
    ways += [{"zip__startswith": asked}, *_by_digits("customer__phone", asked)]
    return any_of(*(Site.objects.filter(**way).values("pk") for way in ways))


def _by_digits(column: str, asked: str) -> list[dict[str, str]]:
    digits = _digits(asked)
    return [{f"{column}__contains": digits}] if digits else []


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
