"""What does checking the record of a panel come to, by the edition that counts there?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from contractor.models import Site
from panels.models import Panel
from panels.queries.checks import records_of
from panels.rules.check.checker import Report, check
from panels.services.adoptions import Basis, basis_for

FOR_THIS_LOOK = "–"


@dataclass(frozen=True, kw_only=True)
class Checked:
    """Reports by panel, the edition they are made by, and where that is known from."""

    basis: Basis
    on: dt.date
    reports: Mapping[UUID, Report]


def checked(
    *, site: Site, on: dt.date, edition: str | None = None, also: Panel | None = None
) -> Checked:
    """Every panel in use at the site, and `also`. Nothing is kept.

    `edition` in place of the one adopted there. Raises UnknownEdition rather than guess one.
    """
    basis = basis_for(site=site, on=on, edition=edition, stated_by=FOR_THIS_LOOK)
    records = records_of(site, on=on, also=also)
    reports = {key: check(record, basis.edition) for key, record in records.items()}
    return Checked(basis=basis, on=on, reports=reports)
