"""A site's tree of panels worked through from its record: its load, and its fault current."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Person, Site
from panels.models import Calculation, Home
from panels.queries.tree import tree
from panels.rules import description
from panels.rules.dwelling import Dwelling
from panels.rules.edition import Edition
from panels.rules.fault import answer as fault
from panels.rules.feeders import answer as feeders
from panels.rules.methods import METHODS
from panels.services.adoptions import Basis, basis_for
from panels.services.calculations import keep
from panels.services.days import day_for
from panels.services.load import described

S = TypeVar("S")
LIKED = ("optional", "standard")
USUAL: Mapping[str, Any] = {"tolerance": True}  # of a fault study, where nothing is chosen
FAULT_CHOICES = ("tolerance", "half_winding", "convention", "motors")


@dataclass(frozen=True, kw_only=True)
class Worked:
    """Both studies of a site as its record stands, and the plain descriptions behind them."""

    inputs: Mapping[str, Any]
    feeders: feeders.Study | None = None
    fault: fault.Study | None = None


def carried(*, site: Site, basis: Basis) -> Worked:
    """What each panel carries. Raises Refused before a panel is on record, and BadDescription
    where the record contradicts itself."""
    inputs = carried_inputs(site, basis.edition)
    return Worked(
        inputs=inputs, feeders=feeders.study(feeders.read(inputs), basis.edition)
    )  # fmt: skip


def available(*, site: Site, basis: Basis, choices: Mapping[str, Any]) -> Worked:
    """The fault current at each panel, by what is recorded of the service and the feeders."""
    inputs = available_inputs(site, choices)
    return Worked(inputs=inputs, fault=fault.study(fault.read(inputs), basis.edition))


def both(*, site: Site, basis: Basis) -> Worked:
    """Both from one reading of the record; one that the record does not allow yet is None."""
    try:
        inputs = carried_inputs(site, basis.edition)
    except Refused:
        return Worked(inputs={})
    of_fault = {**_without_loads(inputs), **USUAL}
    return Worked(
        inputs=inputs,
        feeders=_or_none(lambda: feeders.study(feeders.read(inputs), basis.edition)),
        fault=_or_none(lambda: fault.study(fault.read(of_fault), basis.edition)),
    )


def _or_none(study: Callable[[], S]) -> S | None:
    try:
        return study()
    except Refused:
        return None


def keep_carried(*, site: Site, by: Person, now: dt.datetime, **said: Any) -> Calculation:
    """The roll-up as it stands, kept and never altered. `said` is what `calculations.keep` takes
    besides: on, edition, stated_by, purpose."""
    on = said.get("on") or day_for(site=site, now=now).on
    basis = basis_for(
        site=site, on=on, edition=said.get("edition"), stated_by=said.get("stated_by", "")
    )
    inputs = carried_inputs(site, basis.edition)
    return keep(site=site, method=feeders.KEY, inputs=inputs, by=by, now=now, **said)


def keep_available(
    *, site: Site, choices: Mapping[str, Any], by: Person, now: dt.datetime, **said: Any
) -> Calculation:
    """The fault study as it stands, kept and never altered."""
    inputs = available_inputs(site, choices)
    return keep(site=site, method=fault.KEY, inputs=inputs, by=by, now=now, **said)


def carried_inputs(site: Site, edition: Edition) -> dict[str, Any]:
    home = Home.objects.filter(site=site).first()
    plain = _tree(site, is_dwelling=home is not None)
    if home is None:
        return plain
    dwelling = described(home, site.loads.all())
    return plain | {"dwelling": dwelling, "method": _method(dwelling, edition)}


def _method(dwelling: Mapping[str, Any], edition: Edition) -> str:
    """The optional method where it fits, as most people choose it; else the standard one."""
    premises = description.from_plain(dwelling)
    fitting = [key for key in LIKED if METHODS[key].applies(premises, edition) is None]
    return fitting[0] if isinstance(premises, Dwelling) and fitting else LIKED[-1]


def available_inputs(site: Site, choices: Mapping[str, Any]) -> dict[str, Any]:
    chosen = {name: choices[name] for name in FAULT_CHOICES if choices.get(name)}
    return _without_loads(_tree(site, is_dwelling=False)) | chosen


def _without_loads(plain: Mapping[str, Any]) -> dict[str, Any]:
    """What a fault study asks for: the service, the panels, and circuits without their loads."""
    panels = [
        {**panel, "circuits": [_bare(circuit) for circuit in panel.get("circuits", ())]}
        for panel in plain["panels"]
    ]
    return {"service": plain["service"], "panels": panels}


def _bare(circuit: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in circuit.items() if name not in ("loads", "use")}


def _tree(site: Site, *, is_dwelling: bool) -> dict[str, Any]:
    plain = tree(site, is_dwelling=is_dwelling)
    if not plain["panels"]:
        raise Refused("no_panel", _("Record the panels of this site first."))
    fed = {one.get("feeds") for panel in plain["panels"] for one in panel.get("circuits", ())}
    for panel in plain["panels"]:
        first = panel["name"] not in fed and "through" not in panel
        if first and "transformer" in panel:
            told = _(
                "%(panel)s is fed by the service through a transformer. Record the panel or the "
                "disconnect ahead of that transformer too."
            )
            raise Refused("transformer_at_service", told % {"panel": panel["name"]})
    return plain
