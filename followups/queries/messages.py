"""What went out, what will, what did not and why, and what a person has to decide."""

from __future__ import annotations

from django.db.models import Count, QuerySet

from followups.cadence.words import State
from followups.models import Message

TO_DECIDE = (State.UNSURE, State.FAILED, State.HELD, State.EXPIRED)


def messages() -> QuerySet[Message]:
    return Message.objects.select_related("job__site__customer", "customer", "person").defer(
        "body_html"
    )


def to_decide() -> QuerySet[Message]:
    """Those nothing will happen to until a person decides, the oldest first."""
    return messages().filter(state__in=TO_DECIDE).order_by("not_before")


def in_state(state: str) -> QuerySet[Message]:
    """Due ones by when they go; all others by what happened last."""
    order = "not_before" if state == State.DUE else "-not_before"
    return messages().filter(state=state).order_by(order, "id")


def counts() -> dict[str, int]:
    """How many stand where; counted from the states that are few, and all others together."""
    found = dict(Message.objects.order_by().values_list("state").annotate(Count("pk")))
    return {state.value: found.get(state.value, 0) for state in State}
