"""Which customers look like the same people, and nobody has said they are not?"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.db.models import Q

from contractor.duplicates import Likeness, Who, likeness
from contractor.models import Customer, NotTheSame, Site
from contractor.queries.ways import any_of

MOST_PAIRS = 500
MOST_NEAR = 200
NAMESAKES = 50

# Pairs that share a phone, an e-mail address, or an address and some of the name (a house of
# forty flats is no pair): each arm an equality join.
PAIRS = """
WITH places AS (
    SELECT id AS customer, name, lower(street) AS street, left(zip, 5) AS zip
    FROM contractor_customer WHERE street <> ''
    UNION SELECT c.id, c.name, lower(s.street), left(s.zip, 5)
    FROM contractor_site s JOIN contractor_customer c ON c.id = s.customer_id
), pairs AS (
    SELECT a.id AS one, b.id AS other FROM contractor_customer a
        JOIN contractor_customer b ON a.phone = b.phone AND a.id < b.id WHERE a.phone <> ''
    UNION SELECT a.id, b.id FROM contractor_customer a
        JOIN contractor_customer b ON lower(a.email) = lower(b.email) AND a.id < b.id
        WHERE a.email <> ''
    UNION SELECT a.customer, b.customer FROM places a
        JOIN places b USING (street, zip)
        WHERE a.customer < b.customer AND similarity(a.name, b.name) > 0.2
)
SELECT one, other FROM pairs
WHERE NOT EXISTS (
    SELECT FROM contractor_notthesame told WHERE told.one_id = one AND told.other_id = other
)
ORDER BY one, other LIMIT %s
"""


@dataclass(frozen=True)
class Pair:
    one: Customer
    other: Customer
    likeness: Likeness


def likely_pairs() -> list[Pair]:
    """Pairs worth a look, the likeliest first, at most `MOST_PAIRS`."""
    with connection.cursor() as cursor:
        cursor.execute(PAIRS, [MOST_PAIRS])
        keys = cursor.fetchall()
    known = _by_key(key for pair in keys for key in pair)
    pairs = [_pair(known[one], known[other]) for one, other in keys]
    return _likeliest(pairs)


def likely_twins(customer: Customer) -> list[Pair]:
    """Who may be the same people as this customer, the likeliest first."""
    customer = _by_key([customer.pk])[customer.pk]
    found = _by_key(_near(customer))
    return _likeliest([_pair(customer, other) for other in found.values()])


def _near(customer: Customer) -> list[uuid.UUID]:
    """Everyone who shares a phone, an address or most of the name, but for whom was told apart.

    Of a common name's many bearers some are enough: alone it makes nobody the same.
    """
    streets = ({site.street for site in customer.sites.all()} | {customer.street}) - {""}
    ways: list[dict[str, Any]] = [{"street__in": streets}]
    ways += [{"phone": customer.phone}] if customer.phone else []
    ways += [{"email__iexact": customer.email}] if customer.email else []
    alike = Customer.objects.filter(name__trigram_similar=customer.name).order_by()
    near = any_of(
        *(Customer.objects.filter(**way).values_list("pk", flat=True) for way in ways),
        Site.objects.filter(street__in=streets).values_list("customer", flat=True),
    ).union(alike.values_list("pk", flat=True)[:NAMESAKES])
    known = {customer.pk, *_told_apart(customer)}
    return [key for key in near[:MOST_NEAR] if key not in known]


def who(customer: Customer) -> Who:
    """What the customer is known by; the sites must have been fetched."""
    places = {(site.street, site.zip) for site in customer.sites.all()}
    if customer.street:
        places.add((customer.street, customer.zip))
    return Who(customer.name, customer.phone, customer.email, frozenset(places))


def _pair(one: Customer, other: Customer) -> Pair:
    return Pair(one, other, likeness(who(one), who(other)))


def _likeliest(pairs: list[Pair]) -> list[Pair]:
    likely = [pair for pair in pairs if pair.likeness.is_likely]
    return sorted(likely, key=lambda pair: (-pair.likeness.points, pair.one.name))


def _by_key(keys: Iterable[uuid.UUID]) -> dict[uuid.UUID, Customer]:
    rows = Customer.objects.filter(pk__in=set(keys)).prefetch_related("sites")
    return {customer.pk: customer for customer in rows}


def _told_apart(customer: Customer) -> list[uuid.UUID]:
    told = NotTheSame.objects.filter(Q(one=customer) | Q(other=customer))
    return [
        other if one == customer.pk else one
        for one, other in told.values_list("one_id", "other_id")
    ]
