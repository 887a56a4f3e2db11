"""What does each panel of a site carry against what it is built for, with the working shown?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from contractor.units import Q
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.feeders.checks import checked
from panels.rules.feeders.finding import Drawn, Finding, a
from panels.rules.feeders.legs import Carried
from panels.rules.feeders.read import site_from
from panels.rules.feeders.rollup import carried, counted, whole
from panels.rules.feeders.site import Box, Site, Use
from panels.rules.fields import Fields
from panels.rules.methods import METHODS, calculate
from panels.rules.quantities import AMPERE, VA, Value, va
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.sourced import Mark, Sourced
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "feeders", "Panels and feeders of a site"
CONTINUOUS = 1.25
BY_METHOD = "by the dwelling's method"
AS_CONNECTED = "as connected"
NOT_RECORDED = "not recorded"
EVENLY = Sourced(value=True, cite="210.11(B)", mark=Mark.MEMORY)


@dataclass(frozen=True, kw_only=True)
class Loaded:
    """A panel with what it carries: amperes by leg as connected and with continuous load at
    125 %, the load judged, and what comes of it."""

    box: Box
    depth: int
    carried: Carried
    legs: Mapping[str, float]
    legs_counted: Mapping[str, float]
    drawn: Drawn
    basis: str
    findings: tuple[Finding, ...]

    @property
    def key(self) -> str:
        return re.sub(r"[^a-z0-9]+", "_", self.box.name.lower()).strip("_")


@dataclass(frozen=True, kw_only=True)
class Study:
    """A site worked through: its panels from the service down, and the dwelling's own load."""

    site: Site
    panels: tuple[Loaded, ...]
    dwelling: Result | None
    objection: str
    general_va: float | None

    @property
    def findings(self) -> Iterator[Finding]:
        return (finding for panel in self.panels for finding in panel.findings)


def read(plain: Mapping[str, Any]) -> Site:
    """The site of a plain description. Raises `BadDescription` naming the field."""
    fields = Fields(plain=plain)
    site = site_from(fields)
    fields.done()
    return site


def study(site: Site, edition: Edition) -> Study:
    """The whole roll-up, as values for a page or a drawing."""
    dwelling, objection = _dwelling(site, edition)
    entire = whole(site) if dwelling else set()
    known = carried(site, edition)
    panels = tuple(
        _loaded(
            site, box, depth, known[box.name], edition, dwelling if box.name in entire else None
        )
        for box, depth in site.downward()
    )
    general = counted(site, edition).each.get(Use.GENERAL)
    return Study(
        site=site, panels=panels, dwelling=dwelling, objection=objection, general_va=general
    )


def _dwelling(site: Site, edition: Edition) -> tuple[Result | None, str]:
    if site.dwelling is None:
        return None, ""
    method = METHODS.get(site.method)
    if method is None:
        raise BadDescription(
            "method", f"{site.method!r} is not known. Choose {', '.join(METHODS)}."
        )
    reason = method.applies(site.dwelling, edition)
    return (None, reason) if reason else (calculate(site.method, site.dwelling, edition), "")


def _loaded(
    site: Site, box: Box, depth: int, own: Carried, edition: Edition, dwelling: Result | None
) -> Loaded:
    legs = own.amperes(box.system)
    counted_legs = own.amperes(box.system, continuous=CONTINUOUS)
    if dwelling:
        amperes = by_method(dwelling)
        drawn = Drawn(plain_a=amperes, continuous_a=amperes)
    else:
        drawn = Drawn(
            plain_a=max(legs.values()),
            continuous_a=max(counted_legs.values()),
            unknown=tuple(own.unknown),
        )
    return Loaded(
        box=box,
        depth=depth,
        carried=own,
        legs=legs,
        legs_counted=counted_legs,
        drawn=drawn,
        basis=BY_METHOD if dwelling else AS_CONNECTED,
        findings=tuple(checked(site, box, drawn, edition, entire=dwelling is not None)),
    )


def by_method(dwelling: Result) -> float:
    """The largest current the dwelling's calculation gives for a leg."""
    keys = ("current", "continuous", "line_a", "line_b", "line_c")
    known = {one.key: one.value for one in dwelling.lines if one.key in keys}
    return max(float(Q(value).m_as(AMPERE)) for value in known.values())


def answer(site: Site, edition: Edition) -> Result:
    """Every panel leg by leg against its rating, bus, devices and conductors."""
    done = study(site, edition)
    sections = [_basis(done), *(_section(panel) for panel in done.panels), _unplaced(site)]
    return assemble(KEY, TITLE, edition, sections)


def _basis(done: Study) -> Section:
    lines = [
        line(
            "basis", "Panels that feed a part", AS_CONNECTED, cite="215.2, 215.3",
            how="all that is connected, leg by leg; continuous load at 125 %",
            note="No demand factor: those of a whole dwelling do not hold for a part of it.",
        )
    ]  # fmt: skip
    if done.general_va:
        lines.append(
            line(
                "lighting_per_circuit", "Lighting and outlets, each circuit", va(done.general_va),
                EVENLY, how="by floor area, spread evenly over their circuits",
            )
        )  # fmt: skip
    if done.dwelling:
        note = f"{done.dwelling.method_title}. For the service and a feeder of all of it."
        load = done.dwelling.line("load")
        lines.append(line("dwelling", "The dwelling's load", load.value, note=note, total=True))
        amperes = Q(by_method(done.dwelling), AMPERE)
        lines.append(line("dwelling_current", "Its current per leg", amperes, total=True))
    elif done.objection:
        lines.append(line("dwelling", "The dwelling's method", 0, note=done.objection))
    return Section(title="How load is counted", lines=tuple(lines))


def _section(panel: Loaded) -> Section:
    key, lines = panel.key, []
    known = _at_least(panel, panel.carried.va, Q(panel.carried.va, VA))
    lines.append(line(f"{key}_connected", "Connected load", known))
    for leg, amperes in panel.legs.items():
        more = panel.legs_counted[leg]
        how = "continuous load at 125 %" if more > amperes + 1e-9 else ""
        value = _at_least(panel, more, Q(more, AMPERE))
        lines.append(line(f"{key}_{leg.lower()}", f"Leg {leg}", value, how=how, cite="215.3"))
    fullest = panel.drawn.continuous_a
    judged = _at_least(panel, fullest, Q(fullest, AMPERE))
    note = "At least: not every load is recorded." if panel.drawn.unknown and fullest else ""
    named = f"{panel.box.name}, {panel.basis}"
    lines.append(line(f"{key}_load", named, judged, note=note, total=True))
    lines += [_finding(key, finding) for finding in panel.findings]
    return Section(title=panel.box.name, lines=tuple(lines))


def _at_least(panel: Loaded, amount: float, value: Value) -> Value:
    """Nothing known of what hangs there is not the same as nothing hanging there."""
    return NOT_RECORDED if not amount and panel.carried.unknown else value


def _finding(key: str, finding: Finding) -> Line:
    """What is left as a value where it is known; the state and the sentence in words."""
    value: Value = Q(finding.left_a or 0, AMPERE)
    how = ""
    if finding.left_a is None:
        value = finding.label
    elif finding.limit_a is not None:
        how = f"left of the {a(finding.limit_a)} allowed"
    note = f"{finding.sentence} Record {finding.record}." if finding.record else finding.sentence
    label = f"{finding.label}: {finding.name}"
    made = line(f"{key}_{finding.check}", label, value, how=how, note=note, cite=finding.cite)
    return replace(made, confirm=finding.confirm)


def _unplaced(site: Site) -> Section:
    lines = [
        line(
            "unplaced", load.name, NOT_RECORDED if load.va is None else Q(load.va, VA),
            note="Not placed on a circuit: in no panel's connected load.",
        )
        for load in site.unplaced
    ]  # fmt: skip
    return Section(title="Not placed on a circuit", lines=tuple(lines))


QUESTION = Question(key=KEY, title=TITLE, read=read, answer=answer)
