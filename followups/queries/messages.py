"""What went out, what will, what did not and why, and what a person has to decide."""

from __future__ import annotations

import datetime as dt

from django.db.models import Count, Q, QuerySet

from followups.cadence.words import State
from followups.models import Message

TO_DECIDE = (State.UNSURE, State.FAILED, State.HELD, State.EXPIRED)
LIVE = (State.DUE, State.SENDING, *TO_DECIDE)  # few, whatever the age of the firm
RECENT = dt.timedelta(days=60)  # older ones that are settled stand on their job's page


def messages() -> QuerySet[Message]:
    return Message.objects.select_related("job__site__customer", "customer", "person").defer(
        "body_html"
    )


def to_decide() -> QuerySet[Message]:
    """Those nothing will happen to until a person decides, the oldest first."""
    return messages().filter(state__in=TO_DECIDE).order_by("not_before")


def in_state(state: str, *, now: dt.datetime) -> QuerySet[Message]:
    """Due ones by when they go; all others by what happened last, settled ones of 60 days."""
    rows = messages().filter(_shown(now), state=state)
    return rows.order_by("not_before" if state == State.DUE else "-not_before", "id")


def counts(*, now: dt.datetime) -> dict[str, int]:
    """How many stand where, as the lists show them: never the whole archive."""
    rows = Message.objects.filter(_shown(now)).order_by()
    found = dict(rows.values_list("state").annotate(Count("pk")))
    return {state.value: found.get(state.value, 0) for state in State}


def _shown(now: dt.datetime) -> Q:
    return Q(state__in=LIVE) | Q(not_before__gte=now - RECENT)
