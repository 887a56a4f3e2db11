"""Which editions of the code are known, and what do they say?"""

from __future__ import annotations

from panels.editions.ed2017 import ED2017
from panels.rules.edition import Edition
from panels.rules.errors import UnknownEdition

EDITIONS: dict[str, Edition] = {edition.key: edition for edition in (ED2017,)}


def edition(key: str) -> Edition:
    """The edition of that year. Raises `UnknownEdition` naming those there are."""
    try:
        return EDITIONS[key]
    except KeyError:
        raise UnknownEdition(
            f"Edition {key!r} is not known here. Choose one of {', '.join(EDITIONS)}."
        ) from None
