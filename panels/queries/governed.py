"""Which homes does an adoption govern, and what was calculated for them last?"""

from __future__ import annotations

import datetime as dt

from django.db.models import CharField, Count, Q, QuerySet, Value
from django.db.models.functions import Concat

from contractor.models import Site
from panels.models import Adoption, Calculation

# The methods that take a home as it is on record; what else is kept has inputs of its own.
METHODS = ("standard", "optional", "existing")


def day_of(adoption: Adoption, *, today: dt.date) -> dt.date:
    """The day nearest to today on which this adoption counts in its place.

    Today where it is in force, its first day where it is still to come, its last day where
    another one has followed it.
    """
    following = _of_place(adoption).filter(since__gt=adoption.since).order_by("since").first()
    day = max(today, adoption.since)
    if following is not None and following.since <= day:
        return following.since - dt.timedelta(days=1)
    return day


def governed(adoption: Adoption) -> QuerySet[Site]:
    """The sites for which this adoption's place is the nearest one that has any on record:
    the authority, else the city, else the state (as `panels.services.adoptions.basis_for`)."""
    where = adoption.where
    names = {row.where for row in Adoption.objects.select_related("authority")} | {where}
    of_authority = Q(authority__name__in=names)
    town = Concat("city", Value(", "), "state", output_field=CharField())
    sites = Site.objects.alias(town=town)
    return sites.filter(
        Q(authority__name=where)
        | (~of_authority & Q(town=where))
        | (~of_authority & ~Q(town__in=names) & Q(state=where))
    )


def last_kept(sites: QuerySet[Site]) -> QuerySet[Calculation]:
    """The last calculation of each home by each method it was calculated by."""
    kept = Calculation.objects.filter(site__in=sites, site__home__isnull=False, method__in=METHODS)
    return kept.order_by("site_id", "method", "-made_at", "-id").distinct("site_id", "method")


def touched(adoption: Adoption) -> tuple[int, list[tuple[str, int]]]:
    """How many homes it governs that have a calculation, and by which edition how many of these
    calculations were made."""
    last = Calculation.objects.filter(pk__in=last_kept(governed(adoption)).values("pk")).order_by()
    homes = last.aggregate(homes=Count("site", distinct=True))["homes"]
    counted = last.values_list("edition").annotate(number=Count("pk")).order_by("edition")
    return homes, [(edition, number) for edition, number in counted]


def _of_place(adoption: Adoption) -> QuerySet[Adoption]:
    where = adoption.where
    return Adoption.objects.filter(Q(place=where) | Q(authority__name=where))
