"""Every customer and site as one list, in the columns in which it can be brought in again."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.db.models import Prefetch

from contractor.lists.customers import COLUMNS, CUSTOMER, SITE
from contractor.lists.writing import write
from contractor.models import Customer, Site
from contractor.queries.values import phone_words


def customer_list() -> bytes:
    """A row for every site, and one for each customer without any, as CSV."""
    return write([column.header for column in COLUMNS], _rows())


def _rows() -> Iterator[list[Any]]:
    sites = Prefetch("sites", Site.objects.select_related("authority", "utility"))
    customers = Customer.objects.order_by("name", "pk").prefetch_related(sites)
    for customer in customers.iterator(chunk_size=1000):
        for site in customer.sites.all() or [None]:
            cells = _customer_cells(customer) | (_site_cells(site) if site else {})
            yield [cells.get(column.field, "") for column in COLUMNS]


def _customer_cells(customer: Customer) -> dict[str, Any]:
    cells = {theirs: getattr(customer, ours) for theirs, ours in CUSTOMER.items()}
    return {**cells, "phone": phone_words(customer.phone)}


def _site_cells(site: Site) -> dict[str, Any]:
    """As stored, but for a place only the ZIP code gave: it would come back as known."""
    cells = {theirs: getattr(site, ours) for theirs, ours in SITE.items()}
    if site.placed == Site.Placed.BY_ZIP:
        cells |= {"latitude": "", "longitude": ""}
    return cells
