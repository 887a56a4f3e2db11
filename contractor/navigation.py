"""Where may this person go? Pages by role, as data."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from contractor.models import Role

Place = tuple[str | Promise, str]

DAY: Place = (_("Day"), "day")
WEEK: Place = (_("Week"), "week")
JOBS: Place = (_("Jobs"), "jobs")
SITES: Place = (_("Sites"), "sites")
CUSTOMERS: Place = (_("Customers"), "customers")
PERMITS: Place = (_("Permits"), "permits")
FOLLOW_UP: Place = (_("Follow-up"), "callbacks")
PRAISE: Place = (_("Praise"), "thanks")
WATCH: Place = (_("Watch list"), "watch")
PEOPLE: Place = (_("People"), "people")
FIRM: Place = (_("Firm"), "firm")
CONDUCTORS: Place = (_("Conductors"), "conductors")
ACCOUNT: Place = (_("You"), "account")

# The index beside the firm's name, in the order of a working day.
INDEX: dict[str, list[Place]] = {
    Role.TECHNICIAN: [DAY, WEEK, SITES, CONDUCTORS, PRAISE, ACCOUNT],
    Role.COORDINATOR: [WEEK, JOBS, SITES, CUSTOMERS, PERMITS, FOLLOW_UP, PEOPLE, ACCOUNT],
    Role.OWNER: [WATCH, WEEK, JOBS, SITES, CUSTOMERS, PERMITS, FOLLOW_UP, PEOPLE, FIRM, ACCOUNT],
}

# Lists that stand beside the one a place opens: there too we are at that place.
BESIDE: dict[str, tuple[str, ...]] = {"callbacks": ("replies", "messages", "thanks")}

# The bar under a technician's thumb: few, and always the same.
THUMB: dict[str, list[Place]] = {Role.TECHNICIAN: [DAY, WEEK, SITES, PRAISE, ACCOUNT]}


@dataclass(frozen=True)
class Link:
    label: str | Promise
    url: str
    is_here: bool


def index(role: str, path: str) -> list[Link]:
    return _links(INDEX.get(role, []), path)


def thumb(role: str, path: str) -> list[Link]:
    return _links(THUMB.get(role, []), path)


def _links(places: list[Place], path: str) -> list[Link]:
    """The longest address that the path starts with is where we are."""
    reached = [
        (len(url), name)
        for _label, name in places
        for url in map(reverse, (name, *BESIDE.get(name, ())))
        if _within(path, url)
    ]
    here = max(reached, default=(0, ""))[1]
    return [Link(label, reverse(name), name == here) for label, name in places]


def _within(path: str, url: str) -> bool:
    return path == url or path.startswith(url.rstrip("/") + "/")
