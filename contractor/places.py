"""What do the postal data know of a ZIP code: where it is, and which towns it serves?

Offline data of the `zipcodes` library. They place a site roughly and raise doubts; they decide
nothing, for a new ZIP code reaches the data late.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import zipcodes
from django.utils.translation import gettext as _


@dataclass(frozen=True)
class Place:
    """The middle of a ZIP code (decimal degrees), its time zone (IANA) and its towns."""

    zip: str
    city: str
    cities: frozenset[str]
    state: str
    latitude: float
    longitude: float
    time_zone: str


@lru_cache(maxsize=2048)
def look_up(zip_code: str) -> Place | None:
    """The place of a five- or nine-digit ZIP code, or None where the data know none."""
    try:
        found = next(iter(zipcodes.matching(zip_code[:5])), None)
    except (TypeError, ValueError):  # not shaped like a ZIP code
        return None
    if found is None:
        return None
    return Place(
        zip=found["zip_code"],
        city=found["city"],
        cities=frozenset(map(str.lower, (found["city"], *found["acceptable_cities"]))),
        state=found["state"],
        latitude=float(found["lat"]),
        longitude=float(found["long"]),
        time_zone=found["timezone"],
    )


def doubts(*, city: str, state: str, zip_code: str) -> list[str]:
    """Sentences about an address that may well be right, but is worth a second look."""
    place = look_up(zip_code)
    if place is None:
        return [_("The postal data do not know ZIP code %s. Check it if you can.") % zip_code]
    if place.state != state:
        return [
            _("The postal data have ZIP code %(zip)s in %(state)s.")
            % {"zip": zip_code, "state": place.state}
        ]
    if city.strip().lower() not in place.cities:
        return [
            _("The postal data know ZIP code %(zip)s as %(city)s. Check the town if you can.")
            % {"zip": zip_code, "city": place.city}
        ]
    return []
