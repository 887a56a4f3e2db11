"""What does this room show on a site's page?"""

from __future__ import annotations

from contractor.access import Right, may
from contractor.models import Person, Site
from contractor.sections import Section
from panels.queries import records
from panels.views.one_line import one_line
from panels.views.worked_out import worked_out


def for_site(site: Site, person: Person) -> Section | None:
    """The panels in use, what feeds what, and the sources. Whoever sees the site sees them."""
    panels = list(records.panels_of(site))
    sources = list(records.sources_of(site))
    context = {
        "site": site,
        "panels": panels,
        "sources": sources,
        "drawing": one_line(panels, sources),
        "worked_out": list(worked_out(site, has_sources=bool(sources))) if panels else [],
        "retired": site.panels.exclude(retired_at=None).order_by("-retired_at"),
        "may_record": may(person, Right.FIELD),
        "may_give_link": may(person, Right.OFFICE),
    }
    return Section("panels/site_section.html", context)
