"""What can be worked out for a site, where, and what was its last kept answer?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from contractor.models import Site
from panels.models import Calculation
from panels.queries.answers import last_kept

# A page, its name, the methods it keeps, and what it answers as long as nothing is kept.
Page = tuple[str, str | Promise, tuple[str, ...], str | Promise]

LOADS = ("standard", "optional", "existing", "multifamily", "two_family", "shop")
PAGES: tuple[Page, ...] = (
    ("load", _("Load"), LOADS, _("The calculated load of the service")),
    ("fit", _("Will it fit?"), ("fit",), _("Whether an addition fits, and the ways out")),
    ("meter", _("Meter readings"), ("metered",), _("The load by a year of the utility’s meter")),
    ("feeders", _("Feeders"), ("feeders",), _("Each panel and feeder against its ratings")),
    ("fault", _("Fault current"), ("fault",), _("What each panel’s breakers must interrupt")),
    ("service", _("Service entrance"), (), _("What the utility gives, and the conductors from it")),
)
STANDBY: tuple[Page, ...] = (
    ("backup", _("Backed-up circuits"), (), _("What stays on, and what is let go first")),
    ("outage", _("In an outage"), ("outage",), _("How long it lasts, and whether it is enough")),
)


@dataclass(frozen=True)
class WorkedOut:
    """One line of the list."""

    name: str | Promise
    url: str
    asks: str | Promise
    kept: Calculation | None


def worked_out(site: Site, *, has_sources: bool) -> Iterator[WorkedOut]:
    """Every page that answers something for the site, in the order of the work; one query."""
    kept = last_kept(site)
    for page, name, methods, asks in PAGES + (STANDBY if has_sources else ()):
        answers = [kept[method] for method in methods if method in kept]
        newest = max(answers, key=lambda made: made.made_at, default=None)
        yield WorkedOut(name, reverse(page, args=[site.pk]), asks, newest)
