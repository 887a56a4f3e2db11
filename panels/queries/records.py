"""The panels of a site and everything on record about one of them."""

from __future__ import annotations

from django.db.models import Count, Q, QuerySet

from contractor.models import Site
from panels.models import Circuit, Panel, Reading, Source

READINGS_SHOWN = 60


def panels_of(site: Site) -> QuerySet[Panel]:
    """The panels in use at a site, with what feeds them and how many breakers they hold."""
    return (
        site.panels.filter(retired_at=None)
        .select_related("fed_from__panel", "fed_through")
        .annotate(
            breakers=Count("circuits"),
            spares=Count("circuits", filter=Q(circuits__kind=Circuit.Kind.SPARE)),
        )
        .order_by("name")
    )


def circuits_of(panel: Panel) -> QuerySet[Circuit]:
    """The breakers of a panel in the order they sit, with the panel or source each goes to."""
    return (
        Circuit.objects.filter(panel=panel)
        .select_related("feeds")
        .prefetch_related("sources")
        .order_by("slots")
    )


def sources_of(site: Site) -> QuerySet[Source]:
    return site.sources.select_related("circuit__panel")


def readings_of(panel: Panel) -> QuerySet[Reading]:
    return panel.readings.select_related("circuit", "taken_by")[:READINGS_SHOWN]


def breakers_at(site: Site) -> QuerySet[Circuit]:
    """Every breaker in use at the site, panel by panel, to choose one from."""
    found = Circuit.objects.filter(panel__site=site, panel__retired_at=None)
    return found.select_related("panel").order_by("panel__name", "slots")


def feeders_free(site: Site, *, but: Panel | None = None) -> QuerySet[Circuit]:
    """Breakers at the site that could feed a panel: feeders feeding none, and what feeds `but`."""
    free = Q(kind=Circuit.Kind.FEEDER, feeds=None)
    if but is not None:
        free |= Q(feeds=but)
    found = breakers_at(site).filter(free)
    return found if but is None else found.exclude(panel=but)


def unfed(site: Site, *, but: Panel) -> QuerySet[Panel]:
    """The panels at the site that a new feeder in `but` could feed: those nothing else feeds."""
    found = site.panels.filter(retired_at=None, fed_from=None, fed_through=None)
    return found.exclude(pk=but.pk).order_by("name")


def could_feed(circuit: Circuit) -> QuerySet[Panel]:
    """The panels this breaker feeds or could feed."""
    open_ones = Q(fed_from=None, fed_through=None) | Q(fed_from=circuit)
    found = Panel.objects.filter(open_ones, site=circuit.panel.site_id, retired_at=None)
    return found.exclude(pk=circuit.panel_id).order_by("name")


def fed_by(circuit: Circuit) -> Panel | None:
    """The panel a breaker feeds, without asking the database when it was read along."""
    found: Panel | None = getattr(circuit, "feeds", None)
    return found
