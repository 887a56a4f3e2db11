"""Work the metered method from a file's readings and what a person says beside them; keep it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from contractor.errors import Refused
from contractor.models import Person
from panels.models import Calculation, Load, MeterData
from panels.rules import metered, questions
from panels.rules.meter.judge import YEAR_DAYS
from panels.rules.working import Line, Result
from panels.services import calculations
from panels.services.adoptions import Basis, basis_for
from panels.services.days import day_for
from panels.services.load import described_load


@dataclass(frozen=True, kw_only=True)
class Answer:
    """The load by the meter, not kept."""

    result: Result
    basis: Basis

    @property
    def headlines(self) -> list[Line]:
        return calculations.headlines(self.result)


def inputs_of(data: MeterData, said: Mapping[str, Any]) -> dict[str, Any]:
    """What the question `metered` is given. `said`: power_factor, renewable and occupied as
    "yes" or "no", additions and new_loads as rows of Load, system, service_a.

    Raises Refused where the file itself closes the method.
    """
    if data.bars:
        raise Refused("barred", " ".join(data.bars))
    plain: dict[str, Any] = {
        "demand": {"value": round(data.peak / 1000, 6), "unit": f"k{data.power_unit}"},
        "days": data.days,
        "interval": {"value": data.demand_s / 60, "unit": "min"},
        "renewable": said["renewable"] == "yes",
        "new_loads": _described(said.get("new_loads") or ()),
        "service": {
            "system": said["system"],
            "rating": {"value": said["service_a"], "unit": "A"},
        },
        "source": {"file": data.file_name[:80], "sha256": data.digest[:16]},
    }
    if data.power_unit == "W":
        plain["power_factor"] = said["power_factor"]
    additions = _described(said.get("additions") or ())
    if additions or data.days < YEAR_DAYS:
        plain |= {"additions": additions, "occupied": said.get("occupied") == "yes"}
    return plain


def work_out(*, data: MeterData, said: Mapping[str, Any], now: dt.datetime) -> Answer:
    """The answer as it would be kept; nothing is written. Raises as `keep` does."""
    basis = basis_for(
        site=data.site,
        on=said.get("on") or day_for(site=data.site, now=now).on,
        edition=said.get("edition"),
        stated_by=said.get("stated_by") or "–",
    )
    result = questions.answer(metered.KEY, inputs_of(data, said), basis.edition)
    return Answer(result=result, basis=basis)


def keep(*, data: MeterData, said: Mapping[str, Any], by: Person, now: dt.datetime) -> Calculation:
    """The answer kept as a calculation of the site. Raises NotCovered, BadDescription,
    UnknownEdition and Refused in words; then nothing is kept."""
    basis = {name: said.get(name) for name in ("on", "edition", "stated_by", "purpose")}
    return calculations.keep(
        site=data.site, method=metered.KEY, inputs=inputs_of(data, said), by=by, now=now,
        on=basis["on"], edition=basis["edition"], stated_by=basis["stated_by"] or "",
        purpose=basis["purpose"] or "",
    )  # fmt: skip


def _described(loads: Iterable[Load]) -> list[dict[str, Any]]:
    """Loads as the question reads them; whether they are new is said by the list they are in."""
    plain = [described_load(load) for load in loads]
    return [{name: one[name] for name in one if name != "new"} for one in plain]
