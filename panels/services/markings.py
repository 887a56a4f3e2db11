"""The label of available fault current, from a kept study."""

from __future__ import annotations

from django.utils import formats
from django.utils.translation import gettext as _

from contractor.errors import Refused
from panels.marking import paper
from panels.models import Calculation
from panels.rules.fault.answer import KEY
from panels.services.calculations import result_of
from panels.services.directory import issuer


def is_asked(made: Calculation) -> bool:
    """Is this a fault study that gives a figure to mark?"""
    return made.method == KEY and bool(paper.asked(result_of(made)))


def label(made: Calculation) -> bytes:
    """The labels as PDF. Raises Refused where nothing has to be marked by this calculation."""
    if not is_asked(made):
        raise Refused(
            "no_marking",
            _("This calculation asks for no marking of fault current, or has no figure for one."),
        )
    sheet = paper.Label(
        site=made.site.address,
        result=result_of(made),
        date=formats.date_format(made.made_at.astimezone(made.site.zone), "DATE_FORMAT"),
        issuer=issuer(),
        made_by=made.made_by.name,
    )
    return paper.labels(sheet, made_at=made.made_at)
