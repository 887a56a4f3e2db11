"""What goes onto a directory's paper, and the paper made from it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from contractor.paper import render
from panels.directory import schedule, words
from panels.directory.content import Directory
from panels.rules.layout import Numbering

HERE = Path(__file__).resolve().parent
LETTER, CARD = HERE / "letter.typ", HERE / "card.typ"


@dataclass(frozen=True, kw_only=True)
class Issue:
    """One line of the revision block."""

    number: str
    date: str
    by: str
    change: str


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A directory with what stands around it: which revision, where its live page is."""

    directory: Directory
    issues: tuple[Issue, ...]
    address: str = ""
    draft: bool = False


def letter(sheets: Sequence[Sheet], *, made_at: dt.datetime) -> bytes:
    """A letter page for each directory, as PDF."""
    return render.pdf(LETTER, _data(sheets), made_at=made_at)


def card(sheet: Sheet, *, made_at: dt.datetime) -> bytes:
    """A card for the panel door with cut marks, as PDF."""
    return render.pdf(CARD, _data([sheet]), made_at=made_at)


def picture(sheet: Sheet) -> bytes:
    """The letter page as SVG."""
    return render.picture(LETTER, _data([sheet]))


def look() -> str:
    """A fingerprint of how the papers look; a kept paper of another look is made anew."""
    return render.edition_of(LETTER, CARD, HERE / "parts.typ")


def _data(sheets: Sequence[Sheet]) -> dict[str, Any]:
    first = sheets[0].directory.identity
    names = ", ".join(sheet.directory.identity.name for sheet in sheets)
    return {
        "lang": (get_language() or "en").split("-")[0],
        "title": _("Panel directory: %(panels)s, %(site)s") % {"panels": names, "site": first.site},
        "words": _words(),
        "sheets": [_sheet(sheet) for sheet in sheets],
    }


def _sheet(sheet: Sheet) -> dict[str, Any]:
    directory = sheet.directory
    identity = directory.identity
    return {
        "name": identity.name,
        "site": identity.site,
        "supply": words.supplied(directory.supply),
        "facts": _facts(directory),
        "single": identity.numbering == Numbering.SINGLE.value,
        "legs": directory.frame.system.legs,
        "guards": any(one.protection in words.PROTECTION for one in directory.circuits),
        "rows": [_row(row) for row in schedule.rows(directory)],
        "sources": words.sources(directory.sources),
        "cautions": words.cautions(directory),
        "firm": words.firm(directory.issuer),
        "revisions": [vars(issue) for issue in sheet.issues],
        "revision": sheet.issues[0].number if sheet.issues and not sheet.draft else "–",
        "date": sheet.issues[0].date if sheet.issues else "",
        "by": sheet.issues[0].by if sheet.issues else "",
        "draft": sheet.draft,
        "address": sheet.address,
        "qr": render.qr(sheet.address) if sheet.address else "",
        "no_code": _("The code comes with the issue.")
        if sheet.draft
        else _("No live page: ask the firm for a new code."),
        "spaces": identity.spaces,
    }


def _facts(directory: Directory) -> list[tuple[str, str]]:
    identity = directory.identity
    place = identity.location or _("not recorded")
    facts = [
        (_("Location"), f"{place} ({_('outdoors')})" if identity.outdoors else place),
        (_("Rating"), _("%(amps)s A") % {"amps": identity.rating_a}),
        (_("Voltage"), words.system(identity)),
        (_("Spaces"), str(identity.spaces)),
        (_("Disconnect"), words.disconnect(identity, directory.supply)),
    ]
    if identity.interrupting_ka:
        facts.append((_("Short circuit"), _("%(ka)g kA") % {"ka": identity.interrupting_ka}))
    if identity.lugs_feed:
        facts.append((_("Feed-through lugs to"), ", ".join(identity.lugs_feed)))
    return facts


def _row(row: schedule.Row) -> dict[str, Any]:
    return {
        "leg": row.leg,
        "left_no": str(row.left_no or ""),
        "right_no": str(row.right_no or ""),
        "tandem": any(side is not None and len(side.parts) > 1 for side in (row.left, row.right)),
        "covered": bool((row.left_no and not row.left) or (row.right_no and not row.right)),
        "left": _side(row.left),
        "right": _side(row.right),
    }


def _side(side: schedule.Side | None) -> dict[str, Any] | None:
    if side is None:
        return None
    return {"rows": side.rows, "parts": [_part(part) for part in side.parts]}


def _part(part: schedule.Part) -> dict[str, Any]:
    circuit = part.item
    return {
        "mark": part.mark,
        "kind": circuit.kind if circuit else "space",
        "name": words.circuit_name(circuit),
        "asides": words.asides(part),
        "amps": str(circuit.rating_a) if circuit else "",
        "poles": circuit.poles if circuit else 1,
        "poles_word": _("%(poles)sP") % {"poles": circuit.poles} if circuit else "",
        "protection": words.PROTECTION.get(circuit.protection, "") if circuit else "",
    }


def _words() -> dict[str, str]:
    """Every fixed word on the paper, in the reader's language."""
    return {
        "kind": _("Panel directory"),
        "draft": _("Preview, not issued"),
        "serves": _("Serves"),
        "protection": _("Prot."),
        "amps": _("A"),
        "no": _("No."),
        "caution": _("Caution"),
        "sources": _("Sources on this site and their disconnects"),
        "rev": _("Rev"),
        "date": _("Date"),
        "by": _("By"),
        "change": _("Change"),
        "where": _("Where"),
        "sheet": _("Sheet"),
        "scan": _("Scan for the live page"),
        "qr_alt": _("QR code of the live page,"),
        "sheet_of": _("Sheet %1 of %2"),
    }
