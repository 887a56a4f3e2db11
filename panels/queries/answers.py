"""Which answers were kept last for a site?"""

from __future__ import annotations

from contractor.models import Site
from panels.models import Calculation


def last_kept(site: Site) -> dict[str, Calculation]:
    """The newest kept calculation of each method, by the method's key; one query."""
    newest = site.calculations.order_by("method", "-made_at").distinct("method")
    return {made.method: made for made in newest.defer("inputs", "result")}
