"""Will it fit: every method that applies side by side, what each leaves, and the ways out?"""

from __future__ import annotations

from dataclasses import replace

from contractor.units import Q
from panels.rules import existing, metered
from panels.rules.demand import item
from panels.rules.dwelling import CLIMATE, Kind
from panels.rules.edition import Edition
from panels.rules.fit.inputs import Proposal, read
from panels.rules.fit.out import ways_out
from panels.rules.fit.ways import Outcome, Way, ways
from panels.rules.quantities import AMPERE, show
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.vehicles import rated, vehicle_item
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "fit", "Will it fit?"
ANY = "One method that applies is enough; which may be used here, the authority decides."


def fit(proposal: Proposal, edition: Edition) -> Result:
    """Amperes left by each method with the addition, and what would make it fit."""
    known = list(ways(proposal, edition))
    worked = [(way, way.with_load(proposal.addition)) for way in known if not way.objection]
    sections = [
        _summary(proposal, worked, edition),
        *(_section(way, outcome, proposal, edition) for way, outcome in worked),
        _not_worked([way for way in known if way.objection]),
    ]
    topics = ["managed", *(["existing"] if worked else [])]
    topics += ["meter"] if proposal.metered is not None else []
    return assemble(KEY, TITLE, edition, sections, topics=topics)


def _summary(proposal: Proposal, worked: list[tuple[Way, Outcome]], edition: Edition) -> Section:
    fitting = [way for way, outcome in worked if outcome.fits]
    verdict = "fits" if fitting else "does not fit"
    lines = [
        line("verdict", "Verdict", verdict, how=_how_many(fitting, worked), note=ANY, total=True),
        _addition(proposal, edition),
        line("on", "On a rating of", proposal.rating),
        *(_left(way, outcome, proposal, edition) for way, outcome in worked),
    ]
    return Section(title="Side by side", lines=tuple(lines))


def _addition(proposal: Proposal, edition: Edition) -> Line:
    load = rated(proposal.addition, edition)
    return vehicle_item(load, edition) if load.kind is Kind.VEHICLE else item(load)


def _how_many(fitting: list[Way], worked: list[tuple[Way, Outcome]]) -> str:
    return f"by {len(fitting)} of {len(worked)} methods that apply"


def _left(way: Way, outcome: Outcome, proposal: Proposal, edition: Edition) -> Line:
    how = f"{show(proposal.rating)} − {show(outcome.needed)}"
    word = "left" if outcome.fits else "short"
    note, sources = "", []
    if way.key == existing.KEY:
        added = proposal.addition.kind in CLIMATE
        sources.append(edition.existing.climate if added else edition.existing.demand)
        note = f"{'With' if added else 'Without'} new heating or cooling."
    if way.key == metered.KEY:
        sources.append(edition.recorded.share)
    return line(f"{way.key}_left", f"{way.title}: {word}", Q(outcome.left, AMPERE), *sources,
                how=how, note=note, total=True)  # fmt: skip


def _section(way: Way, outcome: Outcome, proposal: Proposal, edition: Edition) -> Section:
    before = way.with_load(None)
    lines = [
        line(f"{way.key}_before", "Without the addition", before.load),
        _owned(line(f"{way.key}_load", "With it", outcome.load), outcome),
        line(f"{way.key}_current", "What the rating has to carry", outcome.needed),
        *ways_out(way, outcome, proposal, edition),
    ]
    return Section(title=way.title, lines=tuple(lines))


def _owned(load: Line, outcome: Outcome) -> Line:
    """The load with all that its method asks to be confirmed."""
    return replace(load, confirm="\n".join(outcome.confirm))


def _not_worked(ways: list[Way]) -> Section:
    lines = tuple(
        line(f"{way.key}_objection", way.title, "does not apply", note=way.objection)
        for way in ways
    )
    return Section(title="Methods that do not apply", lines=lines)


QUESTION = Question(key=KEY, title=TITLE, read=read, answer=fit)
