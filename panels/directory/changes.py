"""What is different between two directories of one panel, in words?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from panels.directory import schedule, words
from panels.directory.content import Circuit, Directory, Identity

IDENTITY: dict[str, str | Promise] = {
    "site": gettext_lazy("address"),
    "name": gettext_lazy("name of the panel"),
    "location": gettext_lazy("location"),
    "mounting": gettext_lazy("mounting"),
    "outdoors": gettext_lazy("outdoors"),
    "system": gettext_lazy("voltage system"),
    "rating_a": gettext_lazy("panel rating, A"),
    "main_a": gettext_lazy("main breaker, A"),
    "interrupting_ka": gettext_lazy("short-circuit rating, kA"),
    "spaces": gettext_lazy("number of spaces"),
    "numbering": gettext_lazy("numbers on the backplate"),
    "directory_at": gettext_lazy("where the directory is"),
    "lugs_feed": gettext_lazy("panels on the feed-through lugs"),
}


@dataclass(frozen=True)
class Change:
    """One difference: where, what it was, what it is now."""

    where: str
    was: str
    now: str

    def __str__(self) -> str:
        return _("%(where)s: was %(was)s, now %(now)s") % vars(self)


def changes(old: Directory, new: Directory) -> list[Change]:
    """Every difference, the panel itself first, then space by space, then the sources."""
    found = [*_identity(old.identity, new.identity)]
    if old.supply != new.supply:
        found.append(Change(_("supply"), words.supplied(old.supply), words.supplied(new.supply)))
    return [*found, *_spaces(old, new), *_sources(old, new)]


def _identity(old: Identity, new: Identity) -> Iterator[Change]:
    for name, label in IDENTITY.items():
        was, now = getattr(old, name), getattr(new, name)
        if was != now:
            yield Change(str(label), _value(was), _value(now))


def _value(value: Any) -> str:
    if value in (None, "", ()):
        return _("not recorded")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, tuple):
        return ", ".join(value)
    return f"“{value}”" if isinstance(value, str) else f"{value:g}"


def _spaces(old: Directory, new: Directory) -> Iterator[Change]:
    before, after = _by_mark(old), _by_mark(new)
    for mark in sorted({*before, *after}, key=lambda mark: (int(mark.rstrip("ab")), mark)):
        was, now = before.get(mark), after.get(mark)
        if was != now:
            where = _("space %(mark)s") % {"mark": mark}
            yield Change(where, *_told_apart(was, now))


def _by_mark(directory: Directory) -> dict[str, Circuit]:
    return {
        part.mark: part.circuit for _side, part in schedule.parts(directory) if part.circuit
    }


def _told_apart(was: Circuit | None, now: Circuit | None) -> tuple[str, str]:
    """Only what differs, so that a change of name does not repeat the breaker."""
    if was is None or now is None:
        return _whole(was), _whole(now)
    told = [(old, new) for old, new in zip(_facts(was), _facts(now), strict=True) if old != new]
    return ", ".join(old for old, _new in told), ", ".join(new for _old, new in told)


def _whole(circuit: Circuit | None) -> str:
    if circuit is None:
        return _("empty")
    return ", ".join(fact for fact in _facts(circuit)[:4])


def _facts(circuit: Circuit) -> list[str]:
    """The circuit in comparable pieces, each readable alone."""
    protection = words.PROTECTION.get(circuit.protection)
    if protection is None:
        protection = _("no GFCI or AFCI") if circuit.protection else _("protection not recorded")
    return [
        f"“{words.circuit_name(circuit)}”",
        _("%(poles)s-pole") % {"poles": circuit.poles},
        _("%(amps)s A") % {"amps": circuit.rating_a},
        protection,
        _("multiwire %(group)s") % {"group": circuit.multiwire or "–"},
        _("backed up") if circuit.backed_up else _("not backed up"),
        _("shed order %(order)s") % {"order": circuit.shed_order or "–"},
        circuit.kind,
    ]


def _sources(old: Directory, new: Directory) -> Iterator[Change]:
    before, after = ({one.name: one for one in each.sources} for each in (old, new))
    for name in sorted({*before, *after}):
        was, now = before.get(name), after.get(name)
        if was == now:
            continue
        if was is None or now is None:
            yield Change(name, _("on site") if was else _("not there"), _("on site") if now else _("not there"))
            continue
        for field in fields(was):
            if getattr(was, field.name) != getattr(now, field.name):
                yield Change(name, _value(getattr(was, field.name)), _value(getattr(now, field.name)))
