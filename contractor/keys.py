"""Which row does a text from outside name, if it is a key at all?"""

from __future__ import annotations

import uuid


def key_in(text: str | None) -> uuid.UUID | None:
    """The key of a row that is written in a form or an address; nonsense names none."""
    try:
        return uuid.UUID(text or "")
    except ValueError:
        return None
