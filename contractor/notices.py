"""What do we tell the person on the next page, and can they take it back?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest
from django.utils.functional import Promise

UNDO = "undo:"


def say(request: HttpRequest, text: str | Promise, *, undo: str | None = None) -> None:
    """Tell that it is done. `undo` is the address a POST to which takes it back."""
    messages.success(request, str(text), extra_tags=f"{UNDO}{undo}" if undo else "")


def undo_address(extra_tags: str) -> str:
    """The address kept in a message's tags, or an empty string."""
    return extra_tags.removeprefix(UNDO) if extra_tags.startswith(UNDO) else ""
