"""How does a search over several columns find each by its own index?"""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet


def any_of(*ways: QuerySet[Any, Any]) -> QuerySet[Any, Any]:
    """The keys that any of these queries of one column finds; a union where OR would read all."""
    first, *rest = (way.order_by() for way in ways)
    return first.union(*rest)
