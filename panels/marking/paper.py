"""What goes onto the label of available fault current, and the paper made from it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from contractor.paper import render
from panels.directory import words
from panels.directory.content import Issuer
from panels.rules.quantities import show
from panels.rules.working import Line, Result

TEMPLATE = Path(__file__).resolve().parent / "label.typ"
SERVICE, PANEL = "marking", "mark_panel"


@dataclass(frozen=True, kw_only=True)
class Label:
    """A kept study with what stands beside its figures."""

    site: str
    result: Result
    date: str
    issuer: Issuer
    made_by: str


def asked(result: Result) -> list[Line]:
    """The lines of a study that give a figure to mark, the service's first; none where the
    edition asks no marking, or nothing is known to mark."""
    return [
        line
        for line in result.lines
        if line.key.startswith((SERVICE, PANEL)) and not isinstance(line.value, str)
    ]


def labels(label: Label, *, made_at: dt.datetime) -> bytes:
    """A label for each place to be marked, with cut marks, as PDF."""
    return render.pdf(TEMPLATE, _data(label), made_at=made_at)


def _data(label: Label) -> dict[str, Any]:
    return {
        "lang": (get_language() or "en").split("-")[0],
        "title": _("Fault current marking, %(site)s") % {"site": label.site},
        "words": {
            "head": _("Available fault current"),
            "date": _("Calculated on"),
            "by": _("By"),
            "recompute": _("Calculate again when anything changes that bears on it."),
        },
        "labels": list(_labels(label)),
        "site": label.site,
        "date": label.date,
        "by": label.made_by,
        "edition": label.result.edition_title,
        "cautions": [text for text in label.result.cautions if "fault" in text],
        "firm": words.firm(label.issuer),
    }


def _labels(label: Label) -> Iterator[dict[str, str]]:
    for line in asked(label.result):
        at_service = line.key == SERVICE
        where = _("Service equipment") if at_service else line.label.removeprefix("Mark at ")
        yield {"where": where, "figure": show(line.value), "cite": line.cite}
