"""Which pages may a customer read without an account?"""

from __future__ import annotations

import datetime as dt
import uuid

from django.db.models import QuerySet

from contractor.models import CustomerLink, Site


def links_of(site: Site) -> QuerySet[CustomerLink]:
    """Every link ever given out for the site, newest first."""
    return site.links.select_related("revoked_by").order_by("-created_at")


def standing_link(
    *,
    site: Site,
    purpose: CustomerLink.Purpose,
    subject: uuid.UUID | None = None,
    now: dt.datetime,
) -> CustomerLink | None:
    """The newest link of this purpose and subject that still opens, or None."""
    standing = site.links.filter(
        purpose=purpose, subject=subject, revoked_at__isnull=True, expires_at__gt=now
    )
    return standing.order_by("-created_at").first()
