"""How is the choice of a conductor shown: the size, its checks, its ground, and what fell out?"""

from __future__ import annotations

from panels.rules.edition import Edition
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.wire.carried import carried_lines
from panels.rules.wire.checks import FAILS, checks_section
from panels.rules.wire.choose import (
    Chosen,
    Tried,
    Wanted,
    choose,
    drop_of,
    wanted_from,
)
from panels.rules.wire.drop import drop_lines, path_of
from panels.rules.wire.dwelling import share_lines
from panels.rules.wire.grounding import Bond, bond_lines, named
from panels.rules.wire.run import Run
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "conductor", "Smallest conductor that passes"


def answer(wanted: Wanted, edition: Edition) -> Result:
    """The smallest conductor that passes, with its checks, the reason each smaller one fails,
    voltage drop and equipment grounding."""
    chosen, metal = choose(wanted, edition), wanted.conditions.metal
    sections = [
        Section(title="Load and device", lines=tuple(_load_lines(chosen, edition))),
        Section(title="Conductor", lines=(
            line("conductor", TITLE, named(chosen.size, metal), how=_sets(wanted), total=True),
            *carried_lines(chosen.found, edition),
        )),
        checks_section(chosen.checks),
        _drop(chosen, wanted.run, edition),
        Section(title="Equipment grounding", lines=tuple(bond_lines(_bond(chosen), edition))),
        Section(title="Why the smaller ones fail", lines=tuple(_failing(chosen))),
    ]  # fmt: skip
    topics = ("grounding", *(["voltage_drop"] if wanted.run else []))
    return assemble(KEY, TITLE, edition, sections, about="ampacity", topics=topics)


def _sets(wanted: Wanted) -> str:
    sets = wanted.conditions.sets
    return f"{sets} per phase" if sets > 1 else ""


def _load_lines(chosen: Chosen, edition: Edition) -> list[Line]:
    loading, share, device = chosen.wanted.loading, chosen.wanted.share, chosen.device
    rule, lines = edition.wire.carrying, []
    if loading.current.magnitude:
        lines = [
            line("load", "Load", loading.current),
            line("counted", "With the continuous part at 125 %", loading.counted(edition),
                 rule.continuous),
        ]  # fmt: skip
    lines.append(line("device", "Overcurrent device", device, edition.ratings.standard))
    return lines + share_lines(share, device, chosen.wanted.conditions.metal, edition)


def _drop(chosen: Chosen, run: Run | None, edition: Edition) -> Section | None:
    if run is None:
        return None
    path = path_of(drop_of(chosen.size, chosen.wanted, run, chosen.device), edition)
    title = f"Voltage drop at {path.amperes:g} A"
    return Section(title=title, lines=tuple(drop_lines(path, run, edition)))


def _bond(chosen: Chosen) -> Bond:
    return Bond(
        device=chosen.device, metal=chosen.wanted.ground, phase=chosen.size, least=chosen.least
    )


def _failing(chosen: Chosen) -> list[Line]:
    return [_fails(one, chosen.wanted) for one in reversed(chosen.failing)]


def _fails(one: Tried, wanted: Wanted) -> Line:
    key = f"size_{one.size.name.replace('/', '_')}"
    return line(key, named(one.size, wanted.conditions.metal), FAILS, how=one.reasons)


QUESTION = Question(key=KEY, title=TITLE, read=wanted_from, answer=answer)
