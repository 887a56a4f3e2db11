"""What does checking the record of a panel come to, by the edition that counts there?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from contractor.models import Site
from panels.models import Panel
from panels.queries.checks import records_of
from panels.rules.check.checker import Report, check
from panels.rules.check.facts import Record
from panels.rules.fault.answer import Study as Faults
from panels.rules.feeders.answer import Study as Loads
from panels.services import trees
from panels.services.adoptions import Basis, basis_for

FOR_THIS_LOOK = "–"


@dataclass(frozen=True, kw_only=True)
class Checked:
    """Reports by panel, the edition they are made by, and where that is known from."""

    basis: Basis
    on: dt.date
    reports: Mapping[UUID, Report]


def checked(
    *, site: Site, on: dt.date, edition: str | None = None, also: Panel | None = None,
    alone: bool = False,
) -> Checked:  # fmt: skip
    """Every panel in use at the site, and `also`; with `alone` only that one. Nothing is kept.

    `edition` in place of the one adopted there. Raises UnknownEdition rather than guess one.
    """
    basis = basis_for(site=site, on=on, edition=edition, stated_by=FOR_THIS_LOOK)
    records = records_of(site, on=on, also=also)
    worked = trees.both(site=site, basis=basis)
    loads, faults = worked.feeders, worked.fault
    reports = {
        key: check(_studied(record, loads, faults), basis.edition)
        for key, record in records.items()
        if not alone or also is None or key == also.pk
    }
    return Checked(basis=basis, on=on, reports=reports)


def _studied(record: Record, loads: Loads | None, faults: Faults | None) -> Record:
    """The record with the load and the fault current worked out for its panel."""
    name = record.panel.name
    for one in loads.panels if loads else ():
        drawn = one.drawn
        if one.box.name == name and (
            not drawn.unknown or drawn.continuous_a > record.panel.rating_a
        ):
            record = replace(record, calculated_a=drawn.continuous_a)
    for place in faults.places if faults else ():
        if place.box is not None and place.box.name == name:
            ka = place.largest / 1000
            known = not place.loops.open_
            record = replace(record, available_ka=ka if known else None, most_ka=ka)
    if record.entrance and faults and faults.at_service:
        at_service = replace(record.entrance, available_ka=faults.at_service / 1000)
        record = replace(record, entrance=at_service)
    return record
