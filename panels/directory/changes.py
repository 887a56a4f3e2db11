"""What is different between two directories of one panel, in words?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from panels.directory import schedule, words
from panels.directory.content import Circuit, Directory, Identity, Issuer, Source

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
    """One difference: where, what it was, what it is now; `mark` is the space, if it is in one."""

    where: str
    was: str
    now: str
    mark: str = ""

    def __str__(self) -> str:
        return _("%(where)s: was %(was)s, now %(now)s") % vars(self)


def changes(old: Directory, new: Directory) -> list[Change]:
    """Every difference, the panel itself first, then space by space, then the sources."""
    found = [*_identity(old.identity, new.identity)]
    if old.supply != new.supply:
        found.append(Change(_("supply"), words.supplied(old.supply), words.supplied(new.supply)))
    return [*found, *_spaces(old, new), *_sources(old, new), *_issuer(old, new)]


def places(found: list[Change]) -> str:
    """Where something changed, in the few words of a revision block."""
    marks = [change.where for change in found if change.mark]
    names = [change.where for change in found if not change.mark]
    if len(marks) > 1:
        listed = ", ".join(change.mark for change in found if change.mark)
        marks = [_("spaces %(marks)s") % {"marks": listed}]
    return "; ".join(dict.fromkeys([*marks, *names]))


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
            yield Change(where, *_told_apart(was, now), mark=mark)


def _by_mark(directory: Directory) -> dict[str, Circuit]:
    """Each breaker by where its first pole sits."""
    return {
        part.mark.split(",")[0]: part.item
        for _side, part in schedule.parts(directory)
        if part.item and part.first
    }


def _told_apart(was: Circuit | None, now: Circuit | None) -> tuple[str, str]:
    """Only what differs, so that a change of name does not repeat the breaker."""
    if was is None or now is None:
        return _whole(was), _whole(now)
    told = [(old, new) for old, new in zip(_facts(was), _facts(now), strict=True) if old != new]
    if not told:  # only the row behind a feeder's name is another
        return _("another panel"), _("one of the same name")
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
        str(words.KINDS[circuit.kind]),
    ]


def _sources(old: Directory, new: Directory) -> Iterator[Change]:
    before, after = ({one.name: one for one in each.sources} for each in (old, new))
    for name in sorted({*before, *after}):
        was, now = before.get(name), after.get(name)
        if was != now:
            yield Change(name, _source(was), _source(now))


def _source(source: Source | None) -> str:
    if source is None:
        return _("not on site")
    told = [source.location, source.connected_at, source.disconnect_at]
    return "; ".join(filter(None, told)) or _("on site")


def _issuer(old: Directory, new: Directory) -> Iterator[Change]:
    if old.issuer != new.issuer:
        yield Change(_("the firm"), _firm(old.issuer), _firm(new.issuer))


def _firm(issuer: Issuer) -> str:
    return ", ".join(filter(None, [issuer.name, issuer.licence_number, issuer.phone]))
