"""The picture of a panel's load: a bar for each leg against the panel, its devices, conductors."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from panels.rules.feeders.answer import BY_METHOD, Loaded

WIDTH, LEFT, RIGHT = 400, 104, 8
LABEL, LEG, BAR = 15, 24, 14
NEAR = 150  # a limit this near the left edge has its name on its right
NAMES = {
    "panel": gettext_lazy("panel"),
    "main": gettext_lazy("main"),
    "device": gettext_lazy("feeder breaker"),
    "conductor": gettext_lazy("conductors"),
}


@dataclass(frozen=True, kw_only=True)
class Bar:
    """What is judged is solid; what continuous load adds at 125 %, or what only stands beside a
    calculated load, is outlined."""

    name: str
    y: int
    solid: int
    outlined: int
    amperes: str

    @property
    def middle(self) -> int:
        return self.y + BAR - 3

    @property
    def outlined_x(self) -> int:
        return LEFT + self.solid


@dataclass(frozen=True, kw_only=True)
class Limit:
    """A line across the bars, named above them; several limits of one rating share it."""

    x: int
    y: int
    label: str
    anchor: str


@dataclass(frozen=True, kw_only=True)
class Bars:
    bars: list[Bar]
    limits: list[Limit]
    height: int
    words: str
    width: int = WIDTH
    left: int = LEFT
    bar: int = BAR


def bars(loaded: Loaded) -> Bars:
    """The scale ends at the largest limit or the fullest leg, whichever is more."""
    limits = _limits(loaded)
    fullest = max([loaded.drawn.continuous_a, *loaded.legs_counted.values()])
    scale = (WIDTH - LEFT - RIGHT) / (1.02 * max(fullest, *limits, 1.0))
    top = LABEL * len(limits) + 6
    drawn = [
        Bar(
            name=name, y=top + LEG * row, solid=round(solid * scale),
            outlined=round((total - solid) * scale), amperes=_known(loaded, total),
        )
        for row, (name, solid, total) in enumerate(_parts(loaded))
    ]  # fmt: skip
    return Bars(
        bars=drawn,
        limits=_lines(limits, scale),
        height=top + LEG * len(drawn),
        words=_words(loaded, limits),
    )


def _parts(loaded: Loaded) -> Iterator[tuple[str, float, float]]:
    """The name of each bar, its solid part and all of it, in amperes."""
    judged = loaded.basis == BY_METHOD
    if judged:
        yield _("load"), loaded.drawn.continuous_a, loaded.drawn.continuous_a
    for leg, plain in loaded.legs.items():
        yield leg, 0.0 if judged else plain, loaded.legs_counted[leg]


def _lines(limits: Mapping[float, list[str]], scale: float) -> list[Limit]:
    """The largest on top, so that its line passes on the right of the names below it."""
    found = []
    for row, (amperes, names) in enumerate(sorted(limits.items(), reverse=True)):
        x = LEFT + round(amperes * scale)
        label = f"{_amps(amperes)} {', '.join(names)}"
        anchor = "" if x < NEAR else "end"
        found.append(Limit(x=x, y=LABEL * (row + 1) - 3, label=label, anchor=anchor))
    return found


def _limits(loaded: Loaded) -> dict[float, list[str]]:
    found: dict[float, list[str]] = defaultdict(list)
    for finding in loaded.findings:
        ahead = loaded.box.transformer and finding.check in ("device", "conductor")
        if finding.check in NAMES and finding.limit_a and not ahead:
            found[finding.limit_a].append(str(NAMES[finding.check]))
    return found


def _known(loaded: Loaded, amperes: float) -> str:
    """No load on record is not a load of nothing."""
    return _amps(amperes) if amperes or not loaded.carried.unknown else _("not known")


def _amps(amperes: float) -> str:
    return _("%(amps)s A") % {"amps": f"{amperes:.1f}".rstrip("0").rstrip(".")}


def _words(loaded: Loaded, limits: dict[float, list[str]]) -> str:
    """The picture in a sentence."""
    legs = ", ".join(
        _("leg %(leg)s %(amps)s") % {"leg": leg, "amps": _known(loaded, counted)}
        for leg, counted in loaded.legs_counted.items()
    )
    built = ", ".join(f"{' / '.join(names)} {_amps(rating)}" for rating, names in limits.items())
    return _("%(panel)s: %(legs)s. Built for: %(built)s.") % {
        "panel": loaded.box.name, "legs": legs, "built": built,
    }  # fmt: skip
