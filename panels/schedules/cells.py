"""What does a cell of a panel schedule mean: a rating, a wire, a word for yes?"""

from __future__ import annotations

import re
from dataclasses import dataclass

AMPS = re.compile(
    r"^(?:(?P<before>[123])\s*-?\s*p(?:ole)?\s*[-/ ]*)?(?P<amps>\d{1,4})\s*(?:a|amps?)?"
    r"(?:\s*[-/ ]\s*(?P<after>[123])\s*-?\s*p?(?:ole)?)?$",
    re.IGNORECASE,
)
WIRE = re.compile(
    r"^#?\s*(?P<size>\d/0|\d{1,4})\s*(?:awg|kcmil|mcm)?\s*-?\s*"
    r"(?P<metal>cu|copper|al|aluminum|aluminium)?$",
    re.IGNORECASE,
)
POLES = re.compile(r"^([123])\s*-?\s*p?(?:oles?)?$", re.IGNORECASE)
DITTO = {"", "-", "--", "---", '"', "''", "”", "″", "do", "ditto", "same", "|", "↓", "^"}
SPARES = {"spare", "spares", "spare breaker"}
EMPTY = {
    "space",
    "empty",
    "blank",
    "open",
    "unused space",
    "space only",
    "busspace",
    "bussed space",
}
YES = {"yes", "y", "true", "1", "x"}
NO = {"no", "n", "false", "0"}
PROTECTIONS = {
    "gfci": "gfci", "gfi": "gfci", "gf": "gfci", "afci": "afci", "afi": "afci", "af": "afci",
    "dual": "dual", "both": "dual", "afci/gfci": "dual", "gfci/afci": "dual", "df": "dual",
    "dual function": "dual", "plain": "none", "none": "none", "standard": "none",
}  # fmt: skip
KINDS = {
    "circuit": "branch", "branch": "branch", "branch circuit": "branch", "load": "branch",
    "feeder": "feeder", "subpanel": "feeder", "source": "source", "spare": "spare",
}  # fmt: skip
FEEDER = re.compile(r"\b(?:feeder|sub-?\s?panel)\b", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Rating:
    """Amperes, and the poles where the same cell says them: 50/2, 2P50, 50A-2P."""

    amps: int
    poles: int | None = None


def rating(text: str) -> Rating | None:
    """The rating a cell says, or None when it says none that can be read."""
    found = AMPS.match(text.strip())
    if not found or (found["before"] and found["after"]):
        return None
    poles = found["before"] or found["after"]
    return Rating(amps=int(found["amps"]), poles=int(poles) if poles else None)


def poles(text: str) -> int | None:
    found = POLES.match(text.strip())
    return int(found[1]) if found else None


def wire(text: str) -> tuple[str, str] | None:
    """(size, metal as "cu", "al" or ""), or None when it cannot be read."""
    found = WIRE.match(text.strip())
    if not found:
        return None
    return found["size"], (found["metal"] or "").lower()[:2].replace("co", "cu")


def is_ditto(text: str) -> bool:
    return text.strip().lower() in DITTO


def is_spare(text: str) -> bool:
    return _plain(text) in SPARES


def is_empty(text: str) -> bool:
    return _plain(text) in EMPTY


def yes_or_no(text: str) -> bool | None:
    said = text.strip().lower()
    return True if said in YES else False if said in NO else None


def _plain(text: str) -> str:
    return " ".join(text.strip().strip("-–()[]<>. ").lower().split())
