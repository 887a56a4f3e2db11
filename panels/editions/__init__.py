"""Which editions of the code are known, and what do they say?"""

from __future__ import annotations

from panels.editions.ed2017 import ED2017
from panels.editions.ed2020 import ED2020
from panels.editions.ed2023 import ED2023
from panels.editions.ed2026 import ED2026
from panels.rules.edition import Edition
from panels.rules.errors import UnknownEdition

EDITIONS: dict[str, Edition] = {
    edition.key: edition for edition in (ED2017, ED2020, ED2023, ED2026)
}


def edition(key: str) -> Edition:
    """The edition of that year. Raises `UnknownEdition` naming those there are."""
    try:
        return EDITIONS[key]
    except KeyError:
        raise UnknownEdition(
            f"Edition {key!r} is not known here. Choose one of {', '.join(EDITIONS)}."
        ) from None
