"""What was recorded at a meter, and what is to be added, as it is given in plain values?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.units import Quantity, ureg
from panels.rules.description import load_from, service_from
from panels.rules.dwelling import Load, Service
from panels.rules.errors import BadDescription
from panels.rules.fields import Fields
from panels.rules.quantities import (
    AMPERE,
    VA,
    WATT,
    apparent_power,
    from_watts,
    read_quantity_any,
    show,
)

MINUTE = ureg.minute
EXAMPLE = "12.3 kW"


@dataclass(frozen=True, kw_only=True)
class Recording:
    """The highest demand on record and the circumstances the method asks about.

    `given` is the demand as it was recorded, `demand` the same in VA. `additions` is None where
    nobody has said what did not run; an empty tuple says that nothing is to be added.
    """

    given: Quantity
    demand: Quantity
    power_factor: float | None
    days: int
    interval: Quantity
    occupied: bool
    additions: tuple[Load, ...] | None
    new_loads: tuple[Load, ...]
    service: Service
    renewable: bool
    source: str = ""


def read_recording(plain: Mapping[str, Any]) -> Recording:
    """The recording from its fields. Raises `BadDescription` naming the one at fault.

    ``demand`` ("12.3 kW" with ``power_factor``, "12300 VA" or "50 A"), ``days``, ``interval``
    ("15 min"), ``renewable``, ``occupied``, ``additions``, ``new_loads``, ``service``, and
    ``source``, a table of ``file`` and ``sha256`` that says where the demand is read from.
    """
    fields = Fields(plain=plain)
    fields.need("service", '{ system = "1ph-240", rating = "200 A" }')
    service = service_from(fields)
    given, power_factor = _demand(fields), fields.number("power_factor")
    additions = fields.get("additions")
    recording = Recording(
        given=given,
        demand=_apparent(fields, given, power_factor, service),
        power_factor=power_factor,
        days=fields.count("days", least=1),
        interval=_interval(fields),
        occupied=fields.yes("occupied"),
        additions=None if additions is None else _loads(fields, "additions", service),
        new_loads=_loads(fields, "new_loads", service),
        service=service,
        renewable=_renewable(fields),
        source=_source(fields),
    )
    fields.done()
    return recording


def _demand(fields: Fields) -> Quantity:
    given = fields.need("demand", f'"{EXAMPLE}"')
    demand = read_quantity_any(given, field=fields.at("demand"), example=EXAMPLE)
    if demand.is_compatible_with("kWh"):
        raise fields.fault(
            "demand",
            f"{show(demand)} is energy, not demand. Divide the kWh of the fullest interval by its"
            ' length in hours (0.5 kWh in 15 min are 2 kW) and write e.g. "2 kW".',
        )
    if not any(demand.is_compatible_with(unit) for unit in (WATT, VA, AMPERE)):
        raise fields.fault("demand", f'{show(demand)} is no demand. Write e.g. "{EXAMPLE}".')
    if not demand.magnitude:
        raise fields.fault("demand", "is nothing at all. Take the highest demand on record.")
    return demand


def _apparent(
    fields: Fields, given: Quantity, power_factor: float | None, service: Service
) -> Quantity:
    """VA: of amperes on the highest loaded leg as if on all legs, of watts by the power factor."""
    if given.is_compatible_with(VA):
        return given.to(VA)
    if given.is_compatible_with(AMPERE):
        supply = service.supply
        return apparent_power(current=given.to(AMPERE), volts=supply.line, phases=supply.phases)
    if power_factor is None:
        raise fields.fault(
            "power_factor",
            f"is missing: {show(given)} is real power, and the service carries VA. Give the power"
            " factor measured or told by the utility. 1.0 may be given, but gives the fewest VA.",
        )
    return fields.build(from_watts, real=given, power_factor=power_factor)


def _interval(fields: Fields) -> Quantity:
    interval = fields.quantity("interval", unit="min", example="15 min")
    if not 0 < interval.m_as(MINUTE) <= 60:
        raise fields.fault(
            "interval",
            f"{show(interval)}: a demand is an average over 15 minutes, at most over an hour. Ask"
            " the utility for finer data.",
        )
    return interval


def _loads(fields: Fields, name: str, service: Service) -> tuple[Load, ...]:
    """Loads as everywhere; without a kind an other load, without volts between the legs unless
    the nameplate is in amperes."""
    found = []
    for row in fields.tables(name):
        filled = {"kind": "other", **row.plain}
        if not _in_amperes(filled.get("nameplate")):
            filled.setdefault("volts", float(service.supply.line.magnitude))
        found.append(load_from(Fields(plain=filled, path=row.path), service))
    return tuple(found)


def _in_amperes(nameplate: object) -> bool:
    try:
        rating = read_quantity_any(nameplate, field="nameplate", example="1200 VA")
    except BadDescription:
        return False  # said by whoever reads the load itself
    return bool(rating.is_compatible_with(AMPERE))


def _source(fields: Fields) -> str:
    if fields.get("source") is None:
        return ""
    table = Fields(plain=fields.get("source"), path=fields.at("source"))
    file, digest = table.text("file"), table.text("sha256")
    table.done()
    return f"{file}, SHA-256 {digest}" if digest else file


def _renewable(fields: Fields) -> bool:
    """Never supposed: whether a source feeds the site decides whether the method is open."""
    if fields.get("renewable") is None:
        raise fields.fault(
            "renewable",
            "is missing. Is there solar, wind, storage or peak shaving behind this meter? Write"
            " renewable = false or renewable = true",
        )
    return fields.yes("renewable")
