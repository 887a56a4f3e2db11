"""Keep a site a home or a shop, never both."""

from __future__ import annotations

from django.utils.translation import gettext as _

from contractor.errors import Refused
from panels.models import Home, Shop


def only_one(other: Home | Shop | None, *, instead: bool) -> None:
    """A home or a shop, not both: the other one is taken off (its history stays) or refused."""
    if other is None:
        return
    if not instead:
        told = (
            _("This site is on record as a home. Say that it is a shop instead.")
            if isinstance(other, Home)
            else _("This site is on record as a shop. Say that it is a home instead.")
        )
        raise Refused("other_premises", told)
    other.delete()
