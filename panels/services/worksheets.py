"""The worksheet of a kept calculation."""

from __future__ import annotations

from django.utils import formats

from panels.models import Calculation
from panels.services.calculations import result_of
from panels.services.directory import issuer
from panels.worksheet import paper


def worksheet(made: Calculation) -> bytes:
    """The calculation as kept, set for the permit application (PDF)."""
    sheet = paper.Worksheet(
        site=made.site.address,
        purpose=made.purpose,
        jurisdiction=made.jurisdiction,
        edition_by=made.edition_by,
        on=formats.date_format(made.on, "DATE_FORMAT"),
        inputs=made.inputs,
        result=result_of(made),
        issuer=issuer(),
        made_by=made.made_by.name,
        made_on=formats.date_format(made.made_at.astimezone(made.site.zone), "DATE_FORMAT"),
        software=made.software,
    )
    return paper.worksheet(sheet, made_at=made.made_at)
