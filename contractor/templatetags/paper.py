"""How is it written on the page: states, tallies, phone numbers, the title block?"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import template
from django.core.paginator import Page
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from contractor.notices import undo_address
from contractor.telephone import phone

register = template.Library()
register.filter(phone)

# A state is its word. The word's mark is one of eight; any other word gets the open ring.
MARKS = ("open", "active", "due", "late", "hold", "done", "failed", "off")
MARK_OF = {
    "under_way": "active",
    "on_site": "active",
    "sending": "active",
    "issued": "active",
    "requested": "due",
    "applied": "due",
    "needed": "due",
    "unsure": "due",
    "overdue": "late",
    "missing": "late",
    "lapsed": "late",
    "held": "hold",
    "on_hold": "hold",
    "passed": "done",
    "finaled": "done",
    "closed": "done",
    "sent": "done",
    "released": "done",
    "well": "done",
    "wrong": "failed",
    "expired": "failed",
    "refused": "failed",
    "question": "due",
    "cancelled": "off",
    "skipped": "off",
    "draft": "off",
}


@register.simple_tag
def state(value: Any, label: Any = "") -> SafeString:
    """A state as its word with an ink mark: {% state visit.state visit.get_state_display %}."""
    word = str(value)
    mark = word if word in MARKS else MARK_OF.get(word, "open")
    return format_html(
        '<span class="state" data-state="{}">{}</span>', mark, label or word.replace("_", " ")
    )


@register.inclusion_tag("contractor/components/tally.html")
def tally(number: int, label: str, url: str, aside: str = "", state: str = "") -> dict[str, Any]:
    """A number that opens its list; at nought it goes quiet."""
    return {
        "number": number,
        "label": label,
        "url": url,
        "aside": aside,
        "state": state if number else "none",
    }


@register.inclusion_tag("contractor/components/titleblock.html")
def titleblock(
    what: str,
    sub: str = "",
    where: str = "",
    where_url: str = "",
    revision: Any = "",
    date: str = "",
    by: Any = "",
    cells: Iterable[tuple[Any, Any]] = (),
) -> dict[str, Any]:
    """What, where, revision, date, by whom, as on a drawing; blank cells are left out."""
    known = [(_("Revision"), revision), (_("Date"), date), (_("By"), by)]
    return {
        "what": what,
        "sub": sub,
        "where": where,
        "where_url": where_url,
        "cells": [(label, value) for label, value in [*cells, *known] if value not in ("", None)],
    }


@register.filter
def undo(message: Any) -> str:
    """Where a message's action can be taken back, if it can."""
    return undo_address(message.extra_tags or "")


@register.filter
def page_numbers(page: Page) -> list[int | str]:
    """The pages worth a link: the ends and those around this one, gaps as an ellipsis."""
    return list(page.paginator.get_elided_page_range(page.number, on_each_side=1, on_ends=1))
