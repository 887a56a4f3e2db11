"""Which right does an API call need? The same rights as the pages'."""

from __future__ import annotations

from typing import Any

from rest_framework.permissions import BasePermission
from rest_framework.request import Request

from contractor.access import Right, may

READ = frozenset({"GET", "HEAD", "OPTIONS"})


class HasRight(BasePermission):
    """The view names `right`, and `right_to_write` where changing takes more than reading."""

    def has_permission(self, request: Request, view: Any) -> bool:
        right: Right = view.right
        if request.method not in READ:
            right = getattr(view, "right_to_write", right)
        return may(request.user, right)
