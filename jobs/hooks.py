"""Who else must hear of this? Rooms above write their rows in the same transaction as the cause.

Jobs may not import the rooms above them, so settings name the functions, in order:
`AFTER_CLOSE_OUT = ["followups.services.causes.after_close_out"]`. A refusal or fault in one undoes
the whole action, which is the promise: no close-out without its check-in.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils.module_loading import import_string


@dataclass(frozen=True)
class Before:
    """When the customer last expected the visit, so that a change can be told as one."""

    starts_at: dt.datetime
    ends_at: dt.datetime
    promised_from: dt.datetime | None = None
    promised_until: dt.datetime | None = None
    crew_id: int | None = None


def run(occasion: str, /, **facts: Any) -> None:
    """Call every function named for the occasion; only inside the transaction of its cause."""
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError(f"{occasion} must be told inside the transaction of its cause")
    for name in getattr(settings, occasion):
        import_string(name)(**facts)
