"""Which day's edition counts for a site, when nobody names a day?"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.conf import settings
from django.utils.module_loading import import_string
from django.utils.translation import gettext as _

from contractor.models import Site


@dataclass(frozen=True, kw_only=True)
class Day:
    """The day, and why that one; `why` is empty where it is just today."""

    on: dt.date
    why: str = ""


def day_for(*, site: Site, now: dt.datetime) -> Day:
    """The day the newest open permit there was applied for, else today at the site.

    Work is inspected by the edition in force when its permit was applied for (common practice;
    the authority decides). Permits are known to the room named by `PERMIT_DAYS`.
    """
    permits = [day for name in settings.PERMIT_DAYS for day in import_string(name)(site)]
    if not permits:
        return Day(on=now.astimezone(site.zone).date())
    on, permit = max(permits, key=lambda day: day[0])
    return Day(on=on, why=_("the day %(permit)s was applied for") % {"permit": permit})
