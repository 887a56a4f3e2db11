"""A source by one kind of transfer, as a row of the sizing table."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from panels.rules.working import Line
from panels.services.standby_sizing import MANAGED, Sized


@dataclass(frozen=True, kw_only=True)
class SizeRow:
    """What has to be carried, what the source gives, the answer, or why there is none."""

    label: str
    as_recorded: bool
    objection: str = ""
    cite: str = ""
    load: str = ""
    how: str = ""
    gives: str = ""
    fits: bool = False
    ways_out: tuple[Line, ...] = ()


def size_row(one: Sized) -> SizeRow:
    label = size_label(one)
    if one.result is None:
        return SizeRow(label=label, as_recorded=one.as_recorded, objection=one.objection)
    line = one.result.line
    return SizeRow(
        label=label,
        as_recorded=one.as_recorded,
        cite=line("load").cite,
        load=f"{line('load').shown}, {line('current').shown}",
        how=line("load").how,
        gives=f"{line('capacity').shown}, {line('capacity_current').shown}",
        fits=line("fits").value == "yes",
        ways_out=one.ways_out,
    )


def size_label(one: Sized) -> str:
    """The source and its transfer, in words."""
    by = {"manual": _("manual transfer"), MANAGED: _("automatic transfer with load management")}
    words = {"source": one.source.name, "by": by.get(one.transfer, _("automatic transfer"))}
    return _("%(source)s by %(by)s") % words
