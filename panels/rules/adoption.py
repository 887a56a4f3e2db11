"""Which edition applies at a place on a day, and what has the place changed in it?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, TypeVar

from contractor.units import Quantity, ureg
from panels.rules.edition import Edition, values
from panels.rules.errors import BadDescription, UnknownEdition
from panels.rules.fields import Fields
from panels.rules.quantities import percent, read_quantity, show
from panels.rules.sourced import Mark, Sourced
from panels.rules.tables import Tiers

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Amendment:
    """One local change: the dotted field of the edition, its value there, where it is written."""

    field: str
    value: Any
    source: str


@dataclass(frozen=True, kw_only=True)
class Adoption:
    """An ordinance: from that day the place follows that edition, with these amendments."""

    place: str
    since: date
    edition: str
    source: str
    amendments: tuple[Amendment, ...] = ()


def edition_for(
    adoptions: Iterable[Adoption], *, place: str, on: date, editions: Mapping[str, Edition]
) -> Edition:
    """The edition in force, amended. Raises `UnknownEdition` rather than guess one."""
    here = sorted((a for a in adoptions if a.place == place), key=lambda adoption: adoption.since)
    if not here:
        raise UnknownEdition(
            f"No adopted edition is recorded for {place or 'this place'}. Ask the authority having"
            " jurisdiction which edition it follows and record it under adoptions."
        )
    in_force = [adoption for adoption in here if adoption.since <= on]
    if not in_force:
        raise UnknownEdition(
            f"For {place} the first recorded adoption is of {here[0].since:%Y-%m-%d}; nothing says"
            f" what applied on {on:%Y-%m-%d}. Record the adoption in force on that day."
        )
    adoption = in_force[-1]
    if adoption.edition not in editions:
        raise UnknownEdition(
            f"{place} follows edition {adoption.edition!r}, which is not known here."
            f" Known are {', '.join(editions)}."
        )
    return amended(editions[adoption.edition], adoption.amendments)


def amended(edition: Edition, amendments: Sequence[Amendment]) -> Edition:
    """The edition with each amendment in place of the printed value.

    Raises `BadDescription` for an unknown field or a value of the wrong kind.
    """
    for amendment in amendments:
        known = dict(values(edition))
        if amendment.field not in known:
            near = amendment.field.split(".")[0]
            choices = [path for path in known if path.startswith(near)] or list(known)
            raise BadDescription(
                amendment.field, f"is not a value of an edition. There are {', '.join(choices)}."
            )
        if not amendment.source:
            raise BadDescription(amendment.field, "says no source. Name the ordinance.")
        printed = known[amendment.field]
        local = Sourced(
            value=_like(printed.value, amendment),
            cite=amendment.source,
            mark=Mark.LOCAL,
            note=f"Local amendment in place of {printed.cite}.",
        )
        told = f"{amendment.field} = {_words(local.value)} ({amendment.source})"
        edition = _put(edition, amendment.field.split("."), local)
        edition = replace(edition, amendments=(*edition.amendments, told))
    return edition


def _put(node: T, path: Sequence[str], value: Sourced[Any]) -> T:
    name, *rest = path
    new = _put(getattr(node, name), rest, value) if rest else value
    return replace(node, **{name: new})  # type: ignore[type-var]


def said(field: str) -> str:
    """The path of an amendable value as a person reads it, e.g. lighting: small appliance."""
    return field.replace("_", " ").replace(".", ": ")


def _like(printed: Any, amendment: Amendment) -> Any:
    """The amendment's value, of the same kind as the printed one."""
    given, field = amendment.value, amendment.field
    if isinstance(printed, bool):
        if isinstance(given, bool):
            return given
        raise BadDescription(field, f"{given!r} must be true or false.")
    if isinstance(printed, int | float):
        if isinstance(given, int | float) and not isinstance(given, bool) and given >= 0:
            return type(printed)(given)
        raise BadDescription(field, f"{given!r} must be a number, like {printed:g}.")
    if printed is None or isinstance(printed, ureg.Quantity):
        unit = "VA" if printed is None else f"{printed.units:~C}"
        example = "7200 VA" if printed is None else f"{printed.magnitude:g} {unit}"
        return read_quantity(given, field=field, unit=unit, example=example.replace("**", ""))
    if isinstance(printed, Tiers):
        return _tiers(given, field)
    raise BadDescription(field, "is a whole table; a changed table needs an edition of its own.")


def _tiers(given: Any, field: str) -> Tiers:
    """Slices from ``[{up_to = "8000 VA", factor = 1.0}, {factor = 0.4}]``."""
    slices: list[tuple[Quantity | None, float]] = []
    for row in Fields(plain={field: given}).tables(field):
        factor = row.number("factor")
        if factor is None:
            raise row.fault("factor", "is missing. Write e.g. factor = 0.40")
        slices.append((row.maybe("up_to", unit="VA", example="8000 VA"), factor))
        row.done()
    try:
        return Tiers(slices=tuple(slices))
    except ValueError as fault:
        raise BadDescription(field, f"{fault}.") from None


def _words(value: Any) -> str:
    if isinstance(value, Tiers):
        return ", ".join(
            f"{percent(factor)} {f'to {show(end)}' if end is not None else 'of the rest'}"
            for end, factor in value.slices
        )
    return str(value).lower() if isinstance(value, bool) else show(value)


def amendment_from(plain: Mapping[str, Any], *, path: str = "amendment") -> Amendment:
    """An amendment from a plain table with ``field``, ``value`` and ``source``."""
    fields = Fields(plain=plain, path=path)
    amendment = Amendment(
        field=fields.need("field", '"optional.demand"'),
        value=fields.need("value", "0.40"),
        source=fields.need("source", '"Ordinance 12-2021"'),
    )
    fields.done()
    return amendment
