"""What does this room show on a site's page?"""

from __future__ import annotations

from contractor.access import Right, may
from contractor.models import Person, Site
from contractor.sections import Section
from jobs import queries

SHOWN = 20


def for_site(site: Site, person: Person) -> Section | None:
    """The newest jobs of the site that this person may see."""
    found = queries.jobs(person).filter(site=site)[:SHOWN]
    rows = [(job, queries.step_in_words(job)) for job in found]
    office = may(person, Right.OFFICE)
    if not rows and not office:
        return None
    return Section("jobs/_site.html", {"rows": rows, "site": site, "office": office})
