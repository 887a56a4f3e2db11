"""The picture of a panel's load: a bar for each leg against the panel, its devices, conductors."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from panels.rules.feeders.answer import Loaded

WIDTH, LEFT, RIGHT = 400, 22, 8
LABEL, LEG, BAR = 15, 26, 16
NAMES = {
    "panel": gettext_lazy("panel"),
    "main": gettext_lazy("main"),
    "device": gettext_lazy("feeder breaker"),
    "conductor": gettext_lazy("conductors"),
}


@dataclass(frozen=True, kw_only=True)
class Leg:
    """A bar: as connected, and beyond it what continuous load adds at 125 %."""

    leg: str
    y: int
    width: int
    more: int
    amperes: str
    text_x: int

    @property
    def middle(self) -> int:
        return self.y + BAR - 4

    @property
    def more_x(self) -> int:
        return LEFT + self.width


@dataclass(frozen=True, kw_only=True)
class Limit:
    """A line across the bars, named above them; several limits of one rating share it."""

    x: int
    y: int
    label: str
    anchor: str


@dataclass(frozen=True, kw_only=True)
class Bars:
    legs: list[Leg]
    limits: list[Limit]
    height: int
    words: str
    width: int = WIDTH
    left: int = LEFT
    bar: int = BAR


def bars(loaded: Loaded) -> Bars:
    """The scale ends at the largest limit or the fullest leg, whichever is more."""
    limits = _limits(loaded)
    fullest = max(loaded.legs_counted.values(), default=0.0)
    scale = (WIDTH - LEFT - RIGHT) / (1.02 * max(fullest, *limits, 1.0))
    top = LABEL * len(limits) + 6
    lines = [
        Limit(
            x=LEFT + round(amperes * scale), y=LABEL * (row + 1) - 3,
            label=f"{_amps(amperes)} {', '.join(names)}",
            anchor="end" if amperes * scale > WIDTH / 2 else "",
        )
        for row, (amperes, names) in enumerate(sorted(limits.items(), reverse=True))
    ]  # fmt: skip
    legs = [
        _leg(leg, plain, loaded.legs_counted[leg], top + LEG * row, scale)
        for row, (leg, plain) in enumerate(loaded.legs.items())
    ]
    return Bars(legs=legs, limits=lines, height=top + LEG * len(legs), words=_words(loaded, limits))


def _limits(loaded: Loaded) -> dict[float, list[str]]:
    found: dict[float, list[str]] = defaultdict(list)
    for finding in loaded.findings:
        ahead = loaded.box.transformer and finding.check in ("device", "conductor")
        if finding.check in NAMES and finding.limit_a and not ahead:
            found[finding.limit_a].append(str(NAMES[finding.check]))
    return found


def _leg(leg: str, plain: float, counted: float, y: int, scale: float) -> Leg:
    width, more = round(plain * scale), round((counted - plain) * scale)
    beyond = LEFT + width + more + 6
    return Leg(leg=leg, y=y, width=width, more=more, amperes=_amps(counted), text_x=beyond)


def _amps(amperes: float) -> str:
    return _("%(amps)s A") % {"amps": f"{amperes:.1f}".rstrip("0").rstrip(".")}


def _words(loaded: Loaded, limits: dict[float, list[str]]) -> str:
    """The picture in a sentence."""
    legs = ", ".join(
        _("leg %(leg)s %(amps)s") % {"leg": leg, "amps": _amps(counted)}
        for leg, counted in loaded.legs_counted.items()
    )
    built = ", ".join(f"{' / '.join(names)} {_amps(rating)}" for rating, names in limits.items())
    return _("%(panel)s: %(legs)s. Built for: %(built)s.") % {
        "panel": loaded.box.name, "legs": legs, "built": built,
    }  # fmt: skip
