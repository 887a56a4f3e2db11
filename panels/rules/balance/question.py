"""Which moves would balance the legs of this panel, with the working shown?"""

from __future__ import annotations

from collections.abc import Iterator

from contractor.units import Q, Quantity
from panels.rules.balance.breakers import Move, Proposal
from panels.rules.balance.propose import propose
from panels.rules.balance.read import Panel, panel_from
from panels.rules.balance.steps import Kind, Step, in_order
from panels.rules.edition import Edition
from panels.rules.layout import Seat
from panels.rules.quantities import VA
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "balance", "Leg balance"
PRACTICE = "common practice, no source"
COUNTED = "A breaker, a tandem or a quad that changes its place is one move."


def answer(panel: Panel, edition: Edition) -> Result:
    """The legs before and after, what is proven, the moves in an order that works."""
    told = propose(panel.frame, panel.breakers, most_moves=panel.most_moves)
    return told_of(panel, told, edition)


def told_of(panel: Panel, told: Proposal, edition: Edition) -> Result:
    """The proposal as a result."""
    sections = [
        Section(title="As it is", lines=tuple(_legs(panel, told.before, "before", edition))),
        Section(title="As proposed", lines=tuple(_legs(panel, told.after, "after", edition))),
        Section(title="Is it the best?", lines=tuple(_proof(panel, told))),
        Section(title="Moves, in this order", lines=tuple(_moves(panel, told))),
        Section(title="Fewer moves", lines=tuple(_rungs(told))),
        Section(title="Look at", lines=tuple(_open_points(panel, told))),
    ]
    return assemble(KEY, TITLE, edition, sections, topics=("record",))


def va(number: float) -> Quantity:
    return Q(round(number, 3), VA)


def _legs(panel: Panel, legs: tuple[float, ...], when: str, edition: Edition) -> Iterator[Line]:
    rule = edition.neutral.unbalance.cite
    for leg, load in zip(panel.frame.system.legs, legs, strict=True):
        yield line(f"leg_{leg.lower()}_{when}", f"Leg {leg}", va(load), cite=PRACTICE)
    yield line(
        f"imbalance_{when}", "Imbalance", va(max(legs) - min(legs)),
        how=panel.definition, cite=PRACTICE, total=True,
        note=f"The neutral carries what the legs differ by ({rule})." if when == "before" else "",
    )  # fmt: skip


def _proof(panel: Panel, told: Proposal) -> Iterator[Line]:
    at_most = f" with at most {panel.most_moves} moves" if panel.most_moves is not None else ""
    if told.proven:
        words = f"Proven: nothing lower is possible{at_most}, and not with fewer moves."
    elif told.imbalance < told.least + 1e-6:
        words = f"Proven: nothing lower is possible{at_most}; fewer moves may be."
    else:
        words = "The best found in the time there is; it is not proven that nothing is better."
    yield line("bound", "No arrangement is below", va(told.least), note=words)
    yield line("moves", "Moves", told.moves, note=COUNTED, total=True)
    yield line("moves_bound", "Moves needed for that imbalance, at least", told.least_moves)


def _moves(panel: Panel, told: Proposal) -> Iterator[Line]:
    for number, (step, move) in enumerate(numbered(panel, told), start=1):
        one = panel.breakers[move.index]
        label = f"{one.name}: {place(move.was)} to {place(move.now)}"
        yield line(f"move_{number}", label, va(one.va or 0), how=HOW[step.kind])


HOW = {
    Kind.MOVE: "into a free space",
    Kind.SWAP: "change places",
    Kind.ASIDE: "take out first and lay aside; goes in last",
}


def steps_of(panel: Panel, told: Proposal) -> list[Step]:
    """The moves in an order in which each finds its spaces free."""
    moving = {move.index for move in told.moved}
    staying = [one.seat_in(panel.frame) for i, one in enumerate(panel.breakers) if i not in moving]
    return in_order(told.moved, staying)


def numbered(panel: Panel, told: Proposal) -> Iterator[tuple[Step, Move]]:
    """Every move once, in its order; one laid aside stands where it is taken out."""
    seen: set[int] = set()
    for step in steps_of(panel, told):
        for move in step.moves:
            if move.index not in seen:
                seen.add(move.index)
                yield step, move


def place(seat: Seat) -> str:
    return seat.text.replace(",", ", ")


def _rungs(told: Proposal) -> Iterator[Line]:
    """What fewer moves can reach at best, leaving aside whether there is room for them."""
    for rung in told.rungs[: told.moves]:
        label = f"With {rung.moves} moves, at best" if rung.moves != 1 else "With one move, at best"
        yield line(f"with_{rung.moves}", label, va(rung.least))


def _open_points(panel: Panel, told: Proposal) -> Iterator[Line]:
    missing = [one.name for one in panel.breakers if one.va is None]
    if missing:
        yield line(
            "unrecorded", "No load recorded, counted as 0", len(missing),
            note=", ".join(missing) + ".",
        )  # fmt: skip
    locked = [one.name for one in panel.breakers if one.locked]
    if locked:
        yield line("locked", "Locked in their places", len(locked), note=", ".join(locked) + ".")
    for number, words in enumerate(told.notes, start=1):
        yield line(f"note_{number}", "Held or put right", 1, note=words)


QUESTION = Question(key=KEY, title=TITLE, read=panel_from, answer=answer)
