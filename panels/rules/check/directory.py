"""Does the circuit directory tell every circuit clearly, lastingly and from all others? (408.4)"""

from __future__ import annotations

from panels.rules.check import subjects, wording
from panels.rules.check.facts import Breaker, PanelPlate, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, does_not_apply, fails, passes
from panels.rules.edition import Edition

SPARE = does_not_apply("A spare: nothing to describe.")
HOMES = {"one_family", "two_family"}
UNSURE = {"", "dwelling"}  # not recorded, or a dwelling of some kind


def named(breaker: Breaker, _record: Record, _edition: Edition) -> Verdict:
    if not breaker.in_use:
        return SPARE
    if breaker.name.strip():
        return passes("What it serves is described.")
    return fails("A breaker in use without a description. Write what it serves and where.")


def distinct(breaker: Breaker, record: Record, _edition: Edition) -> Verdict:
    if not breaker.in_use or not breaker.name.strip():
        return does_not_apply("No description to compare.")
    others = [one for one in record.breakers if one.id != breaker.id and one.in_use and one.name]
    read = wording.reads_as(breaker.name)
    twins = [one.place for one in others if wording.reads_as(one.name) == read]
    if twins:
        return fails(f"Reads the same as {', '.join(sorted(twins))}. Say what tells them apart.")
    return passes("No other circuit here is described alike.", advice=_nearly(breaker, others))


def _nearly(breaker: Breaker, others: list[Breaker]) -> str:
    """Advice where only a letter or a number without meaning tells two names apart."""
    slips = sorted(one.place for one in others if wording.slip(breaker.name, one.name))
    if slips:
        return f"One letter from the name of {', '.join(slips)}: a slip?"
    stem = wording.without_number(breaker.name)
    if stem and any(stem in _stems(one.name) for one in others):
        return "Only a number tells it from another. Say where instead: north wall, left of sink."
    return ""


def _stems(name: str) -> tuple[tuple[str, ...] | None, tuple[str, ...]]:
    return wording.without_number(name), wording.reads_as(name)


def clear(breaker: Breaker, _record: Record, _edition: Edition) -> Verdict:
    if not breaker.in_use or not breaker.name.strip():
        return does_not_apply("No description to judge.")
    if wording.is_unused(breaker.name):
        return does_not_apply("Described as unused; see the rule on spares.")
    if wording.is_vague(breaker.name):
        return fails(f"“{breaker.name.strip()}” does not say what is served and where.")
    if wording.is_bare_room(breaker.name):
        advice = "A room alone: add what it serves there, such as receptacles or lights."
        return passes("It names a place.", advice=advice)
    return passes("It says what is served.")


def lasting(breaker: Breaker, _record: Record, _edition: Edition) -> Verdict:
    if not breaker.name.strip():
        return does_not_apply("No description to judge.")
    word = wording.occupant(breaker.name)
    if word:
        return fails(f"“{word}” depends on who is there now. Name the place: northeast bedroom.")
    return passes("It does not depend on who lives or works there.")


def spare(breaker: Breaker, _record: Record, _edition: Edition) -> Verdict:
    if breaker.kind == "spare":
        return passes("An unused breaker, described as a spare.")
    if breaker.name.strip() and wording.is_unused(breaker.name):
        return fails(f"Described as “{breaker.name.strip()}” but not as a spare. Make it a spare.")
    return does_not_apply("In use.")


def located(plate: PanelPlate, _record: Record, edition: Edition) -> Verdict:
    allowed = edition.checks.directory_at
    if not plate.directory_at.strip():
        return cannot_tell("where the directory is")
    said = " ".join(wording.tokens(plate.directory_at))
    if any(word in said for word in allowed.value):
        return passes(f"Kept at: {plate.directory_at.strip()}.", allowed)
    told = f"Kept at “{plate.directory_at.strip()}”; it belongs on the face or inside the door"
    return fails(f"{told}{', or beside it' if 'adjacent' in allowed.value else ''}.", allowed)


def supply_marked(plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    if record.at_service:
        return does_not_apply("Fed by the service, not from other equipment.")
    if record.occupancy in HOMES:
        return does_not_apply("Not asked of one- and two-family dwellings.")
    if plate.supply_marked:
        return passes("Marked with what feeds it, permanently.")
    if record.occupancy in UNSURE:
        return cannot_tell("what the service serves", place=subjects.entrance(record)[0].place)
    if plate.supply_marked is None:
        return cannot_tell("whether a permanent marking says what feeds it")
    return fails(f"Mark it permanently, not by hand, with what feeds it: {plate.fed_from}.")


RULES: tuple[Rule[Breaker] | Rule[PanelPlate], ...] = (
    Rule(key="dir1_named", id="DIR1", title="Every circuit in use is described",
         about=subjects.breakers, judge=named),
    Rule(key="dir1_distinct", id="DIR1", title="Told from all other circuits",
         about=subjects.breakers, judge=distinct),
    Rule(key="dir1_clear", id="DIR1", title="Clear, evident and specific",
         about=subjects.breakers, judge=clear),
    Rule(key="dir2", id="DIR2", title="Not tied to an occupant",
         about=subjects.breakers, judge=lasting),
    Rule(key="dir3", id="DIR3", title="Unused breakers are called spares",
         about=subjects.breakers, judge=spare),
    Rule(key="dir4", id="DIR4", title="The directory is where it belongs",
         about=subjects.panel, judge=located),
    Rule(key="dir5", id="DIR5", title="What feeds the panel is marked",
         about=subjects.panel, judge=supply_marked),
)  # fmt: skip
