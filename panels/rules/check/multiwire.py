"""Do the circuits that share a neutral start together, switch together and balance? (210.4)"""

from __future__ import annotations

from panels.rules.check import subjects
from panels.rules.check.facts import Breaker, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, fails, passes
from panels.rules.edition import Edition

Group = tuple[Breaker, ...]
PARTNER = "the other circuit of this group"


def origin(group: Group, _record: Record, _edition: Edition) -> Verdict:
    if _whole(group):
        return passes("All its circuits start in this panel.")
    return cannot_tell(f"{PARTNER}, which has to start in the same panel")


def disconnect(group: Group, _record: Record, _edition: Edition) -> Verdict:
    if not _whole(group):
        return cannot_tell(PARTNER)
    if len(group) == 1:
        return passes("One breaker of several poles opens all its conductors together.")
    if any(one.tied is False for one in group):
        return fails("Its breakers open one by one. Use a handle tie or one breaker of both poles.")
    if any(one.tied is None for one in group):
        return cannot_tell("whether its breakers are tied")
    return passes("Its breakers are tied at the handles.")


def to_neutral(group: Group, _record: Record, _edition: Edition) -> Verdict:
    """Line-to-neutral loads only, unless one breaker opens every pole at once or it serves one
    piece of equipment."""
    if len(group) == 1 and group[0].poles > 1:
        return passes("One breaker opens every pole at once, so loads between legs are allowed.")
    if all(one.serves == "equipment" for one in group):
        return passes("It serves one piece of equipment only.")
    known = [draw for one in group for draw in one.draws]
    between = [draw.name for draw in known if (draw.volts or 0) > 150]
    if between:
        return fails(f"{between[0]} is connected between legs, and the breakers trip one by one.")
    if any(not one.serves and not one.draws for one in group):
        return cannot_tell("what its circuits serve")
    return passes("Its loads are connected to neutral, as recorded.")


def grouped(group: Group, _record: Record, _edition: Edition) -> Verdict:
    if any(one.grouped is False for one in group):
        return fails("Group its conductors in the panel with a tie, or run them in one cable.")
    if all(one.grouped for one in group):
        return passes("Its conductors are grouped, or in one cable.")
    return cannot_tell("whether its conductors are grouped where they start: look inside")


def legs(group: Group, _record: Record, _edition: Edition) -> Verdict:
    said = [leg for one in group for leg in one.legs]
    if len(said) != len(set(said)):
        told = (
            f"Its poles are on leg {', '.join(said)}: the neutral would carry their sum. Move one."
        )
        return fails(told)
    if not _whole(group):
        return cannot_tell(PARTNER)
    if len(said) < sum(one.poles for one in group):
        return cannot_tell("the legs its poles stand on")
    return passes(f"Its poles are on different legs: {', '.join(sorted(said))}.")


def _whole(group: Group) -> bool:
    """Two poles at least: one alone shares its neutral with nothing."""
    return sum(one.poles for one in group) >= 2


RULES: tuple[Rule[Group], ...] = (
    Rule(key="mwbc1_origin", id="MWBC1", title="Multiwire: starts in one panel",
         about=subjects.multiwire, judge=origin),
    Rule(key="mwbc1_disconnect", id="MWBC1", title="Multiwire: all poles open together",
         about=subjects.multiwire, judge=disconnect),
    Rule(key="mwbc1_loads", id="MWBC1", title="Multiwire: loads to neutral only",
         about=subjects.multiwire, judge=to_neutral),
    Rule(key="mwbc1_grouped", id="MWBC1", title="Multiwire: conductors grouped",
         about=subjects.multiwire, judge=grouped),
    Rule(key="mwbc1_legs", id="MWBC1", title="Multiwire: poles on different legs",
         about=subjects.multiwire, judge=legs),
)  # fmt: skip
