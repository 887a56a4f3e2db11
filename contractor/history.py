"""Who changed what, when and from where: every tracked model gets an event table by trigger."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, ParamSpec, TypeVar

import pghistory
from django.db import models, transaction
from django.http import HttpRequest
from pghistory.middleware import HistoryMiddleware

M = TypeVar("M", bound=type[models.Model])
P = ParamSpec("P")
R = TypeVar("R")


def kept(*, exclude: list[str] | None = None) -> Callable[[M], M]:
    """Keep every insert, update and delete of this model, bulk writes included.

    The triggers carry the table's name: the library tells them apart by a 20-bit hash, and two
    of our models do collide in it.
    """

    def track(model: M) -> M:
        table = model._meta.model_name
        events = (pghistory.InsertEvent, pghistory.UpdateEvent, pghistory.DeleteEvent)
        trackers = [
            event(trigger_name=f"{verb}_{table}")
            for verb, event in zip(("insert", "update", "delete"), events, strict=True)
        ]
        return pghistory.track(*trackers, exclude=exclude or None)(model)

    return track


def recorded(service: Callable[P, R]) -> Callable[P, R]:
    """A service in one transaction, its `by` kept beside every row it changes: also when it is
    called by a task or a command, where no request says who."""

    @wraps(service)
    def kept_service(*args: P.args, **kwargs: P.kwargs) -> R:
        with pghistory.context(user=str(kwargs["by"].pk)), transaction.atomic():  # type: ignore[attr-defined]
            return service(*args, **kwargs)

    return kept_service


class WhoAndWhere(HistoryMiddleware):
    """Adds the person, the page and the device to each change made during a request."""

    def get_context(self, request: HttpRequest) -> dict[str, Any]:
        return {
            **super().get_context(request),
            "address": request.META.get("REMOTE_ADDR", ""),
            "device": request.headers.get("User-Agent", "")[:200],
        }
