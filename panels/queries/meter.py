"""What did the meter see at this site, and what does it draw in a typical year?"""

from __future__ import annotations

from django.db.models import QuerySet

from contractor.models import Site
from panels.models import MeterData
from panels.rules.meter.profile import Profile
from panels.rules.meter.profile import typical_year as typical


def files_of(site: Site) -> QuerySet[MeterData]:
    """The files taken in, newest first, without their readings."""
    return site.meter_data.select_related("taken_by").defer("readings")


def profile_of(site: Site) -> Profile | None:
    """The typical year of the best file there is, and how many of its quarter hours were filled.

    Best: the finest interval, then the most days, then the latest. None where no file gives one.
    """
    for data in site.meter_data.order_by("interval_s", "-days", "-end_at"):
        found = typical(data.series, site.zone)
        if found is not None:
            return found
    return None


def typical_year(site: Site) -> list[float] | None:
    """Watts for each of 35,040 quarter hours from 1 January, local standard time.

    Hourly readings are held flat; what is missing follows the same hour of the nearest days
    (`profile_of` says how many). VA of a meter that records them stand for watts. None where no
    readings are on record that give a year.
    """
    found = profile_of(site)
    return found.powers if found else None
