"""Every customer and site as one list, in the columns in which it can be brought in again."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from contractor.lists.customers import COLUMNS, CUSTOMER, SITE
from contractor.lists.writing import lines
from contractor.models import Customer, Site
from contractor.telephone import phone

# Our columns, by the path to their value from the customer.
PATHS = CUSTOMER | {theirs: f"sites__{ours}" for theirs, ours in SITE.items()}
PATHS |= {"authority": "sites__authority__name", "utility": "sites__utility__name"}
PLACED = "sites__placed"


def customer_list() -> Iterator[bytes]:
    """A row for every site, and one for each customer without any, as CSV, line by line."""
    rows = Customer.objects.order_by("name", "pk", "sites__street", "sites__pk")
    found = rows.values(*PATHS.values(), PLACED).iterator(chunk_size=1000)
    return lines([column.header for column in COLUMNS], map(_cells, found))


def _cells(row: dict[str, Any]) -> list[Any]:
    """As stored; but a place only the ZIP code gave stays here, or it would return as known."""
    cells = {theirs: row[path] for theirs, path in PATHS.items()}
    cells["phone"] = phone(cells["phone"])
    if row[PLACED] == Site.Placed.BY_ZIP:
        cells |= {"latitude": None, "longitude": None}
    return [cells[column.field] for column in COLUMNS]
