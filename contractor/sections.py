"""What do the rooms above have to show on a site's page? Settings name who is asked."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from django.conf import settings
from django.utils.module_loading import import_string

from contractor.models import Person, Site


@dataclass(frozen=True)
class Section:
    """A part of the page: its template and what the template needs."""

    template: str
    context: dict[str, Any] = field(default_factory=dict)


def for_site(site: Site, person: Person) -> list[Section]:
    """The sections of `SITE_SECTIONS` in that order; a room with nothing to show gives None."""
    asked = (import_string(name)(site, person) for name in settings.SITE_SECTIONS)
    return [section for section in asked if section is not None]
