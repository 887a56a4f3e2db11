"""On which days were the open permits of a site applied for? Editions of the code follow them."""

from __future__ import annotations

import datetime as dt

from django.db.models.functions import Coalesce
from django.utils.translation import gettext as _

from contractor.models import Site
from jobs.models import Permit
from jobs.planning.words import JobState, PermitState


def at(site: Site) -> list[tuple[dt.date, str]]:
    """Each open permit of an open job: its day, and what it is; the newest first.

    The day is that of the application; of its issue where nobody noted when it was applied for.
    """
    waiting = (PermitState.APPLIED, PermitState.ISSUED)
    permits = Permit.objects.filter(job__site=site, job__state=JobState.OPEN, state__in=waiting)
    dated = permits.annotate(day=Coalesce("applied_on", "issued_on")).exclude(day=None)
    rows = dated.order_by("-day", "-pk").values_list("day", "number", "job__number")
    return [(day, _told(number, job)) for day, number, job in rows]


def _told(number: str, job: int) -> str:
    if number:
        return _("permit %(number)s of job %(job)s") % {"number": number, "job": job}
    return _("the permit of job %(job)s") % {"job": job}
