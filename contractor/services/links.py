"""Give a customer a page to read without an account, open it, and take it back."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Collection

from django.core import signing
from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _

from contractor import queries
from contractor.errors import Refused
from contractor.models import CustomerLink, Firm, Person, Site
from contractor.queries.links import standing_link

Purpose = CustomerLink.Purpose


class NoSuchLink(Refused):
    """Nothing opens here, and nothing is told about why."""

    status = 404


class LinkOver(Refused):
    """The link was good once."""

    status = 410


@transaction.atomic
def make_link(
    *, site: Site, purpose: Purpose, subject: uuid.UUID | None = None, now: dt.datetime
) -> CustomerLink:
    """A new link for the site; `subject` is the row it is about, where it is about one."""
    return CustomerLink.objects.create(
        site=site,
        purpose=purpose,
        subject=subject,
        created_at=now,
        expires_at=_end(purpose, now),
    )


@transaction.atomic
def link_for(
    *, site: Site, purpose: Purpose, subject: uuid.UUID | None = None, now: dt.datetime
) -> CustomerLink:
    """The link that is already out there while it opens, else a new one; good for its full time.

    What is printed on a panel door stays the same from one printing to the next, and what is
    mailed today does not end tomorrow because it was first mailed long ago.
    """
    Site.objects.select_for_update().get(pk=site.pk)
    found = standing_link(site=site, purpose=purpose, subject=subject, now=now)
    if found is None:
        return make_link(site=site, purpose=purpose, subject=subject, now=now)
    found.expires_at = max(found.expires_at, _end(purpose, now))
    found.save(update_fields=["expires_at"])
    return found


def open_link(*, token: str, purposes: Collection[Purpose], now: dt.datetime) -> CustomerLink:
    """The link of this token, counted as opened once more.

    Raises NoSuchLink for a bad signature, an unknown row or another purpose, and LinkOver for one
    that expired or was taken back.
    """
    link = _signed_link(token, purposes)
    if link.revoked_at is not None:
        raise LinkOver("link_revoked", _no_good())
    if link.expires_at <= now:
        raise LinkOver("link_expired", _no_good())
    CustomerLink.objects.filter(pk=link.pk).update(opened=F("opened") + 1)
    return link


@transaction.atomic
def revoke_link(*, link: CustomerLink, by: Person, now: dt.datetime) -> CustomerLink:
    """Take the link back, at once and for good; taking it back twice changes nothing."""
    link = CustomerLink.objects.select_for_update().get(pk=link.pk)
    if link.revoked_at is None:
        link.revoked_at, link.revoked_by = now, by
        link.save(update_fields=["revoked_at", "revoked_by"])
    return link


def _end(purpose: Purpose, now: dt.datetime) -> dt.datetime:
    firm = queries.firm() or Firm()
    days = firm.door_link_days if purpose == Purpose.DOOR else firm.link_days
    return now + dt.timedelta(days=days)


def _signed_link(token: str, purposes: Collection[Purpose]) -> CustomerLink:
    for purpose in purposes:
        try:
            key = signing.Signer(salt=f"link.{purpose}", sep=".").unsign(token)
            link = CustomerLink.objects.select_related("site__customer").get(
                pk=uuid.UUID(hex=key), purpose=purpose
            )
        except (signing.BadSignature, ValueError, CustomerLink.DoesNotExist):
            continue
        return link
    raise NoSuchLink("link_unknown", _no_good())


def _no_good() -> str:
    return _("This link is no longer good. Ask the firm for a new one.")
