"""What fault current is available at the service and at every panel, with the working shown?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from contractor.units import Q
from panels.rules.edition import Edition
from panels.rules.fault import loops, point_to_point
from panels.rules.fault.checks import checked, disconnect, marking
from panels.rules.fault.loops import Choices, Loops
from panels.rules.fault.point_to_point import Points
from panels.rules.fault.practice import CONVENTIONS, HALVES, MOTORS, TOLERANCE
from panels.rules.feeders.finding import Finding
from panels.rules.feeders.read import site_from
from panels.rules.feeders.site import Box, Duty, Site
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.quantities import AMPERE
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "fault", "Available fault current of a site"


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A site and what whoever asks has chosen."""

    site: Site
    choices: Choices


@dataclass(frozen=True, kw_only=True)
class At:
    """The fault currents at one place. `box` is None where the service conductors begin."""

    name: str
    box: Box | None
    depth: int
    loops: Loops
    points: Points
    motor_a: float
    findings: tuple[Finding, ...] = ()

    @property
    def key(self) -> str:
        return re.sub(r"[^a-z0-9]+", "_", self.name.lower()).strip("_")

    @property
    def three_phase(self) -> float | None:
        amperes = self.loops.three_phase
        return None if amperes is None else amperes + self.motor_a

    @property
    def line_to_line(self) -> float:
        return self.loops.line_to_line + self.motor_a

    @property
    def to_neutral(self) -> float | None:
        amperes = self.loops.to_neutral
        return None if amperes is None else amperes + self.motor_a

    @property
    def largest(self) -> float:
        """What everything at this place has to be rated for."""
        return loops.largest([self.three_phase, self.line_to_line, self.to_neutral])


@dataclass(frozen=True, kw_only=True)
class Study:
    """Every place from the source down; none where the source is not recorded."""

    asked: Asked
    places: tuple[At, ...]
    findings: tuple[Finding, ...]
    missing: str = ""

    @property
    def sources(self) -> str:
        """Where other sources feed in, whose current is not counted."""
        return _sources(self.asked.site)

    @property
    def tapped(self) -> bool:
        """Is anything fed by a centre tap, so that its conventions matter?"""
        return _tapped(self.asked.site)

    @property
    def at_service(self) -> float | None:
        """The largest at the service equipment: at the first panels the service feeds."""
        first = [place.largest for place in self.places if place.depth == 1]
        return max(first, default=None)


def read(plain: Mapping[str, Any]) -> Asked:
    """The site, and `tolerance`, `half_winding`, `convention` and `motors` beside it."""
    fields = Fields(plain=plain)
    motors = fields.maybe("motors", unit="A", example="120 A")
    choices = Choices(
        tolerance=fields.yes("tolerance"),
        half=_one_of(fields, "half_winding", "third", HALVES),
        convention=_one_of(fields, "convention", "in_f", CONVENTIONS),
        motor_a=0.0 if motors is None else float(motors.magnitude) * MOTORS.value,
    )
    asked = Asked(site=site_from(fields), choices=choices)
    fields.done()
    return asked


def _one_of(fields: Fields, name: str, default: str, known: Mapping[str, Any]) -> str:
    given = fields.text(name, default)
    if given not in known:
        raise fields.fault(name, f"{given!r} is not known. Choose one of {', '.join(known)}.")
    return given


MISSING = (
    "Available fault current: cannot tell because neither the utility's figure nor its"
    " transformer is recorded. Ask the utility for the figure and its X/R, in writing."
)


def study(asked: Asked, edition: Edition) -> Study:
    """The whole study, as values for a page or a drawing. Raises `NotCovered` off the tables."""
    site, choices = asked.site, asked.choices
    start = loops.source(site.entrance, choices)
    if start is None:
        return Study(asked=asked, places=(), findings=(), missing=MISSING)
    scalar = point_to_point.start(start, choices)
    motor = choices.motor_a
    places = [At(name="Service", box=None, depth=0, loops=start, points=scalar, motor_a=motor)]
    known: dict[str | None, tuple[Loops, Points]] = {None: (start, scalar)}
    for box, depth in site.downward():
        known[box.name] = here = _at(asked, box, *known[site.above[box.name]], edition)
        place = At(
            name=box.name, box=box, depth=depth, loops=here[0], points=here[1], motor_a=motor,
            findings=tuple(checked(site, box, _largest(here[0], motor), here[0].open_, edition)),
        )  # fmt: skip
        places.append(place)
    done = Study(asked=asked, places=tuple(places), findings=())
    own = (*disconnect(site.entrance, done.at_service, start.open_, edition),)
    return Study(asked=asked, places=done.places, findings=own)


def _largest(here: Loops, motor_a: float) -> float:
    return loops.largest([here.three_phase, here.line_to_line, here.to_neutral]) + motor_a


def _at(
    asked: Asked, box: Box, before: Loops, scalar: Points, edition: Edition
) -> tuple[Loops, Points]:
    """From the panel above, or the source, through conductors and a transformer, to a panel."""
    run = asked.site.run_to(box)
    before = loops.along(before, run, edition, f"the conductors to {box.name}")
    scalar = point_to_point.along(scalar, run, edition)
    if box.transformer is None:
        return before, scalar
    after = loops.through(before, box.transformer, box.system, asked.choices)
    behind = point_to_point.through(scalar, box.transformer, box.system, asked.choices)
    if box.run.size is None or box.through:
        return after, behind
    of = f"the secondary conductors of {box.name}"
    return (
        loops.along(after, box.run, edition, of),
        point_to_point.along(behind, box.run, edition),
    )


def answer(asked: Asked, edition: Edition) -> Result:
    """Every place by complex impedance, the point-to-point method beside it, ratings, marking."""
    done = study(asked, edition)
    sections = [
        _basis(asked, done, edition),
        *map(_section, done.places),
        Section(title="Marking", lines=tuple(marks(done, edition))),
    ]
    return assemble(KEY, TITLE, edition, sections, about="fault", topics=("shock",))


def marks(done: Study, edition: Edition) -> Iterator[Line]:
    """What has to be marked where, by this study."""
    at_panels = {place.name: place.largest for place in done.places if place.box}
    yield from marking(done.asked.site, done.at_service, at_panels, edition)


def _basis(asked: Asked, done: Study, edition: Edition) -> Section:
    choices, entrance = asked.choices, asked.site.entrance
    lines = [
        line(
            "method", "By complex impedance", "R and X added apart", edition.wire.falling.impedance,
            note="75 °C. The point-to-point method stands beside it; it adds magnitudes.",
        )
    ]  # fmt: skip
    if done.missing:
        lines.append(line("source", "Source", "not recorded", note=done.missing))
    elif entrance.available_a:
        figure = Q(entrance.available_a, AMPERE)
        lines.append(line("source", "The utility's figure", figure, note=entrance.stated))
    else:
        note = "Behind an unlimited supply: the most its transformer can pass."
        lines.append(line("source", "Source", "the utility's transformer", note=note))
    if choices.tolerance:
        lines.append(line("tolerance", "Stated %Z taken at", TOLERANCE.value, TOLERANCE))
    if _tapped(asked.site):
        half = HALVES[choices.half]
        lines.append(
            line("half_winding", "Half of a center-tapped winding", half.value.label, half)
        )
        lines.append(line("convention", "Point to point", CONVENTIONS[choices.convention]))
    if choices.motor_a:
        amount = Q(choices.motor_a, AMPERE)
        lines.append(line("motors", "Motors add, at every place", amount, MOTORS))
    if beside := done.sources:
        note = "Inverters and generators add to it: add what their makers state."
        lines.append(line("sources", "Not counted: sources at", beside, note=note))
    lines += [_finding("service", finding) for finding in done.findings]
    return Section(title="How it is calculated", lines=tuple(lines))


def _sources(site: Site) -> str:
    """The breakers that other sources feed in at, which this study does not see."""
    found = [
        f"{box.name} {breaker.told}"
        for box in site.boxes
        for breaker in box.breakers
        if breaker.duty is Duty.SOURCE
    ]
    return ", ".join(found)


def _tapped(site: Site) -> bool:
    systems = [site.entrance.system, *(box.system for box in site.boxes)]
    return System.SPLIT_240 in systems


def _section(place: At) -> Section:
    return Section(title=place.name, lines=tuple(_lines(place)))


def _lines(place: At) -> Iterator[Line]:
    key, open_ = place.key, ", ".join(dict.fromkeys(place.loops.open_))
    note = f"At most: not recorded is {open_}." if open_ else ""
    lines_a = place.points.lines_a + place.motor_a
    if place.three_phase is not None:
        yield _amperes(
            f"{key}_three_phase", f"{place.name}, three-phase", place.three_phase, note, total=True
        )
        yield _amperes(f"{key}_line_to_line", "Line to line", place.line_to_line, "")
    else:
        label = f"{place.name}, line to line"
        yield _amperes(f"{key}_line_to_line", label, place.line_to_line, note, total=True)
    if place.to_neutral is not None:
        yield _amperes(f"{key}_to_neutral", "Line to neutral", place.to_neutral, "")
    else:
        said = "A high-leg bank's fault to neutral is not covered here: ask the utility."
        yield line(f"{key}_to_neutral", "Line to neutral", "not covered", note=said)
    yield _amperes(f"{key}_point_to_point", "Point to point", lines_a, "")
    if place.points.to_neutral is not None:
        neutral = place.points.to_neutral + place.motor_a
        yield _amperes(
            f"{key}_point_to_point_neutral", "Point to point, to neutral", neutral, ""
        )  # fmt: skip
    yield from (_finding(key, finding) for finding in place.findings)


def _amperes(key: str, label: str, amperes: float, note: str, *, total: bool = False) -> Line:
    return line(key, label, Q(float(round(amperes)), AMPERE), note=note, total=total)


def _finding(key: str, finding: Finding) -> Line:
    note = f"{finding.sentence} Record {finding.record}." if finding.record else finding.sentence
    return line(
        f"{key}_{finding.check}", f"{finding.label}: {finding.check}", finding.label,
        note=note, cite=finding.cite,
    )  # fmt: skip


QUESTION = Question(key=KEY, title=TITLE, read=read, answer=answer)
