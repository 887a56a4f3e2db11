"""What does a plain description say of a measurement?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.quantities import read_quantity, read_quantity_any
from panels.rules.readings import voltage
from panels.rules.readings.kinds import Measured, Reading
from panels.rules.readings.typed import conductors, pairs

UNBALANCE = "unbalance"
KINDS = (*(kind.value for kind in Measured), UNBALANCE)
UNIT = {Measured.VOLTAGE: "V", Measured.INSULATION: "Mohm", Measured.TORQUE: "lbf*in"}
EXAMPLE = {
    Measured.VOLTAGE: "121.5 V", Measured.INSULATION: "250 megohm", Measured.TORQUE: "250 lb-in",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A reading, or a voltage of a named nominal, or three voltages; `criterion` narrows it."""

    kind: str
    reading: Reading | None = None
    nominal: str = ""
    volts: tuple[float, ...] = ()
    criterion: str = ""


def read(plain: Mapping[str, Any]) -> Asked:
    """From ``kind`` and ``value``; a voltage with ``system`` and ``between``, or ``nominal``;
    insulation with ``test`` and ``rated`` or ``system``, ``temperature``; torque with ``marked``
    and ``tool``; ``unbalance`` with three ``values``. ``criterion`` asks for one alone.
    """
    fields = Fields(plain=plain)
    kind = fields.need("kind", '"voltage"')
    if kind not in KINDS:
        raise fields.fault("kind", f"{kind!r} is not one of {', '.join(KINDS)}.")
    criterion = fields.text("criterion")
    if kind == UNBALANCE:
        asked = Asked(kind=kind, volts=_three(fields), criterion=criterion)
    else:
        asked = _one(fields, Measured(kind), criterion)
    fields.done()
    return asked


def _three(fields: Fields) -> tuple[float, ...]:
    given = fields.need("values", '["460 V", "467 V", "450 V"]')
    if not isinstance(given, list | tuple) or len(given) != 3:
        raise fields.fault("values", "must be the three voltages between the legs.")
    volts = tuple(_plain(one, fields.at("values"), "V", "460 V") for one in given)
    if not any(volts):
        raise fields.fault("values", "are all zero: there is nothing to compare.")
    return volts


def _one(fields: Fields, kind: Measured, criterion: str) -> Asked:
    value = _plain(fields.need("value", EXAMPLE[kind]), "value", UNIT[kind], EXAMPLE[kind])
    nominal = fields.text("nominal") if kind is Measured.VOLTAGE else ""
    if nominal:
        known = sorted({name for one in voltage.RANGES for name in one.limits.value})
        if nominal not in known:
            raise fields.fault("nominal", f"{nominal!r} is not one of {', '.join(known)}.")
        return Asked(kind=kind, nominal=nominal, volts=(value,), criterion=criterion)
    system = _system(fields, needed=kind is Measured.VOLTAGE)
    reading = Reading(
        kind=kind, value=value, system=system, between=_between(fields, kind, system),
        test_v=_whole(fields, "test", needed=True) if kind is Measured.INSULATION else None,
        rated_v=_whole(fields, "rated") if kind is Measured.INSULATION else None,
        temperature_c=_celsius(fields) if kind is Measured.INSULATION else None,
        marked_value=_marked(fields) if kind is Measured.TORQUE else None,
        instrument=fields.text("tool") if kind is Measured.TORQUE else "",
    )  # fmt: skip
    return Asked(kind=kind, reading=reading, criterion=criterion)


def _system(fields: Fields, *, needed: bool) -> System:
    given = fields.need("system", '"1ph-240"') if needed else fields.text("system", "1ph-240")
    if given not in {one.value for one in System}:
        told = ", ".join(one.value for one in System)
        raise fields.fault("system", f"{given!r} is not one of {told}.")
    return System(given)


def _between(fields: Fields, kind: Measured, system: System) -> str:
    if kind is Measured.TORQUE:
        return fields.text("between")
    known = pairs(system) if kind is Measured.VOLTAGE else conductors(system)
    given = fields.need("between", '"A-N"') if kind is Measured.VOLTAGE else fields.text("between")
    if given and given not in known:
        raise fields.fault("between", f"{given!r} is not one of {', '.join(known)}.")
    return str(given)


def _whole(fields: Fields, name: str, *, needed: bool = False) -> int | None:
    given = fields.need(name, "500 V") if needed else fields.get(name)
    return None if given in (None, "") else round(_plain(given, fields.at(name), "V", "500 V"))


def _marked(fields: Fields) -> float | None:
    given = fields.get("marked")
    if given in (None, ""):
        return None
    marked = _plain(given, fields.at("marked"), "lbf*in", "250 lb-in")
    if not marked:
        raise fields.fault("marked", "must be above zero.")
    return marked


def _celsius(fields: Fields) -> float | None:
    given = fields.get("temperature")
    if given in (None, ""):
        return None
    found = read_quantity_any(given, field="temperature", example="20 C", signed=True)
    if not found.is_compatible_with("degC"):
        raise fields.fault("temperature", 'is not a temperature. Write e.g. "20 C".')
    return round(float(found.to("degC").magnitude), 6)


def _plain(given: Any, field: str, unit: str, example: str) -> float:
    found = read_quantity(given, field=field, unit=unit, example=example)
    return round(float(found.magnitude), 9)
