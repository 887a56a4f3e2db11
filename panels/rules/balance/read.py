"""What does a plain description say of a panel and its breakers?"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from contractor.units import Q
from panels.rules.balance.breakers import Breaker
from panels.rules.fields import Fields
from panels.rules.layout import Frame, Half, LayoutError, Numbering, System
from panels.rules.places import read_spaces
from panels.rules.quantities import VA, show

T = TypeVar("T", bound=enum.Enum)
MOST_SPACES = 84
MOST_VA = 1_000_000  # of one circuit; sums in sixths of a VA stay within 32 bits


@dataclass(frozen=True, kw_only=True)
class Panel:
    """A panel and its breakers; `most_moves` where no more than that are wanted."""

    frame: Frame
    breakers: tuple[Breaker, ...]
    most_moves: int | None = None

    @property
    def definition(self) -> str:
        two = len(self.frame.system.legs) == 2
        return "|A - B|" if two else "largest leg less smallest leg"


def panel_from(plain: Mapping[str, Any]) -> Panel:
    """From ``panel`` {spaces, numbering, system, tandem}, ``circuits`` [{name, space, poles, half,
    load, locked, multiwire, tied}] and, if wanted, ``most_moves``."""
    fields = Fields(plain=plain)
    frame = _frame(Fields(plain=fields.need("panel", '{ spaces = 42, system = "1ph-240" }'),
                          path="panel"))  # fmt: skip
    breakers = tuple(_breaker(row) for row in fields.tables("circuits"))
    if not breakers:
        raise fields.fault("circuits", "is empty. Say at least one breaker with name and space.")
    asked = fields.get("most_moves") is not None
    most = fields.count("most_moves") if asked else None
    fields.done()
    return Panel(frame=frame, breakers=breakers, most_moves=most)


def _frame(fields: Fields) -> Frame:
    spaces = fields.count("spaces", least=1)
    if spaces > MOST_SPACES:
        raise fields.fault("spaces", f"must be at most {MOST_SPACES}.")
    numbering = _one_of(Numbering, fields, "numbering", fields.text("numbering", "across"))
    system = _one_of(System, fields, "system", fields.need("system", '"1ph-240"'))
    try:
        tandem = read_spaces(fields.text("tandem"), spaces=spaces)
    except LayoutError as refused:
        raise fields.fault("tandem", refused.sentence) from None
    fields.done()
    return Frame(spaces=spaces, numbering=numbering, system=system, tandem=tandem)


def _one_of(kind: type[T], fields: Fields, name: str, value: Any) -> T:
    known = {each.value: each for each in kind}
    if value not in known:
        raise fields.fault(name, f"{value!r} is not one of {', '.join(known)}.")
    return known[value]


def _breaker(row: Fields) -> Breaker:
    load = row.maybe("load", unit="VA", example="1500 VA")
    if load is not None and load.m_as(VA) > MOST_VA:
        raise row.fault("load", f"must be at most {show(Q(MOST_VA, VA))}.")
    half = row.get("half") or ""
    if half not in ("", *(one.value for one in Half)):
        raise row.fault("half", f'{half!r} must be "a", "b" or left out.')
    poles = row.count("poles", least=1, default=1)
    if poles > 3:
        raise row.fault("poles", "must be 1, 2 or 3.")
    breaker = Breaker(
        name=str(row.need("name", '"Kitchen receptacles"')).strip(),
        space=row.count("space", least=1),
        poles=poles,
        half=Half(half) if half else None,
        va=round(float(load.m_as(VA))) if load is not None else None,
        locked=row.yes("locked"),
        multiwire=row.text("multiwire"),
        tied=row.yes("tied"),
    )
    row.done()
    return breaker
