"""The owner's page: numbers that open their lists, and what brings the firm back."""

from __future__ import annotations

import datetime as dt

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, needs
from followups import trend
from followups.queries import timing
from followups.queries import watch as queries


@needs(Right.WATCH)
@require_safe
def page(request: SignedIn) -> HttpResponse:
    now, zone = timezone.now(), timing.the_firm().zone
    today = now.astimezone(zone).date()
    weeks = queries.weeks(now=now, zone=zone)
    since = dt.datetime.combine(weeks[0].monday, dt.time(), zone)
    context = {
        **_lists(),
        "numbers": queries.numbers(now=now, zone=zone),
        "licences": queries.licences_expiring(today),
        "today": today,
        "since": since,
        "rates": queries.came_back_by_kind(since),
        "causes": queries.causes(since),
        "bars": trend.bars(weeks),
        "weeks": weeks,
        "praise": queries.recent_praise(now - dt.timedelta(days=queries.PRAISE_DAYS)),
    }
    return render(request, "followups/watch.html", context)


def _lists() -> dict[str, str]:
    """Where each number opens its list."""
    inspections, permits = reverse("inspections"), reverse("permits")
    return {
        "callbacks_url": reverse("callbacks"),
        "replies_url": reverse("replies"),
        "silent_url": f"{reverse('replies')}?show=silent",
        "messages_url": reverse("messages"),
        "unplanned_url": f"{reverse('week')}#unplanned",
        "inspections_due_url": f"{inspections}?state=due",
        "inspections_overdue_url": f"{inspections}?state=overdue",
        "inspections_failed_url": f"{inspections}?state=failed",
        "permits_url": f"{permits}?lapsing={queries.PERMIT_DAYS}",
    }
