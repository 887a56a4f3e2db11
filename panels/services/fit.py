"""Ask whether something proposed fits at a site, as its home or shop is on record."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.errors import Invalid
from contractor.models import Person, Site
from panels.models import Calculation, Load
from panels.queries.premises import load_rules, premises_at
from panels.rules import metered, questions
from panels.rules.dwelling import Kind
from panels.rules.fit.question import KEY
from panels.rules.working import Result
from panels.services import calculations
from panels.services.adoptions import Basis
from panels.services.load import check_load, described_load


@dataclass(frozen=True, kw_only=True)
class Choice:
    """Something often asked for, with a nameplate that is typical (common practice, no source)."""

    key: str
    label: Any
    kind: Kind
    nameplate: float
    unit: str = "A"


CHOICES = (
    Choice(key="vehicle-48", label=gettext_lazy("Vehicle supply, 48 A"), kind=Kind.VEHICLE,
           nameplate=48),
    Choice(key="vehicle-32", label=gettext_lazy("Vehicle supply, 32 A"), kind=Kind.VEHICLE,
           nameplate=32),
    Choice(key="heat-pump", label=gettext_lazy("Heat pump, 24 A"), kind=Kind.HEAT_PUMP,
           nameplate=24),
    Choice(key="range", label=gettext_lazy("Range, 12 kW"), kind=Kind.RANGE, nameplate=12,
           unit="kW"),
    Choice(key="water-heater", label=gettext_lazy("Water heater, 4.5 kW"),
           kind=Kind.WATER_HEATER, nameplate=4.5, unit="kW"),
    Choice(key="storage", label=gettext_lazy("Storage, charging at 24 A"), kind=Kind.OTHER,
           nameplate=24),
    Choice(key="hot-tub", label=gettext_lazy("Hot tub, 40 A"), kind=Kind.OTHER, nameplate=40),
)  # fmt: skip


def choices_at(site: Site) -> list[tuple[Choice, dict[str, Any]]]:
    """What is offered at the site, each with what the form is filled in with."""
    service, kinds = load_rules(premises_at(site))
    volts = float(service.supply.line.magnitude)
    return [
        (
            choice,
            {
                "kind": choice.kind.value,
                "name": str(choice.label).split(",")[0],
                "nameplate": f"{choice.nameplate:g}",
                "unit": choice.unit,
                "volts": f"{volts:g}",
                "count": 1,
            },
        )
        for choice in CHOICES
        if choice.kind in kinds
    ]


def proposed(*, site: Site, load: Load, service_a: float | None = None) -> dict[str, Any]:
    """The question in plain values. Raises Refused before the premises are on record, Invalid
    where the nameplate cannot be counted or the rating that is there is not known.
    """
    premises = calculations.inputs_of(site)
    load.site = site
    load.name = load.name or load.get_kind_display().capitalize()
    check_load(load)
    if service_a:
        premises["service"]["rating"] = {"value": service_a, "unit": "A"}
    if "rating" not in premises["service"]:
        sentence = _("Say the rating of the service that is there now.")
        raise Invalid("no_rating", sentence, fields={"service_a": sentence})
    inputs = {"premises": premises, "addition": described_load(load)}
    if recording := metered_at(site):
        inputs["metered"] = recording
    return inputs


def metered_at(site: Site) -> dict[str, Any]:
    """What the meter recorded, as the last calculation kept by it was given; else nothing."""
    kept = site.calculations.filter(method=metered.KEY).only("inputs").first()
    given: dict[str, Any] = kept.inputs if kept else {}
    return {name: value for name, value in given.items() if name not in ("service", "new_loads")}


def ask(inputs: dict[str, Any], basis: Basis) -> Result:
    """Every method side by side; nothing is kept."""
    return questions.answer(KEY, inputs, basis.edition)


def keep(
    *, site: Site, inputs: dict[str, Any], by: Person, now: dt.datetime,
    edition: str | None = None, stated_by: str = "", on: dt.date | None = None,
    purpose: str = "", id: uuid.UUID | None = None,
) -> Calculation:  # fmt: skip
    """Keep the answer as it is. Raises as `calculations.keep` does."""
    return calculations.keep(
        site=site, method=KEY, inputs=inputs, by=by, now=now, edition=edition,
        stated_by=stated_by, on=on, purpose=purpose, id=id,
    )  # fmt: skip
