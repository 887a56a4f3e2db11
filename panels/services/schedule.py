"""Take in a panel schedule: read, show, then all of it or nothing; and write one out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, BinaryIO

from django.conf import settings
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.lists import Line, table
from contractor.models import Person, UploadedList
from contractor.services.imports import Verb
from panels.models import Circuit, Panel
from panels.queries import records
from panels.rules.layout import Seat, span
from panels.schedules.columns import HEADERS, header_of
from panels.schedules.rows import Problem, Said, Sheet, read_sheet
from panels.services import feeders
from panels.services.circuits import CHANGES, check, check_still_feeds
from panels.services.guards import lock_panel, put_in
from panels.services.seating import last_guard

KIND = UploadedList.Kind.PANEL


@dataclass(frozen=True)
class Change:
    """A column of the circuit, as it was and as the list has it."""

    header: str
    was: Any
    now: Any


@dataclass
class Step:
    """What becomes of one breaker of the list: the row as it would be, and the one there is."""

    line: int
    circuit: Circuit
    seat: Seat
    verb: Verb
    changes: list[Change] = field(default_factory=list)
    feeds: Panel | None = None


@dataclass
class Plan:
    """What taking the list in would do, and everything against it."""

    steps: list[Step]
    problems: list[Problem]
    notes: list[str]

    def count(self, verb: Verb) -> int:
        return sum(step.verb is verb for step in self.steps)

    @property
    def changes_nothing(self) -> bool:
        return not self.problems and self.count(Verb.SAME) == len(self.steps)


@recorded
def upload(
    *, panel: Panel, file: BinaryIO, name: str, by: Person, now: dt.datetime
) -> UploadedList:
    """Read the file and keep its lines as typed. Raises Invalid when it is no panel schedule."""
    lines = table(file, max_bytes=settings.LIST_MAX_BYTES)
    header_of(lines)
    return UploadedList.objects.create(
        kind=KIND,
        file_name=name[:200],
        subject=panel.pk,
        rows=lines,
        uploaded_by=by,
        uploaded_at=now,
    )


def lines_of(uploaded: UploadedList) -> list[Line]:
    return [(line, list(cells)) for line, cells in uploaded.rows]


def plan(panel: Panel, lines: list[Line]) -> Plan:
    """Compare the schedule with the panel as it is. Nothing is written."""
    frame = panel.frame
    sheet = read_sheet(lines, frame)
    circuits = list(records.circuits_of(panel))
    there = {(one.space, one.half): one for one in circuits}
    found = Plan([], list(sheet.problems), _notes(sheet, panel, circuits))
    panels_here = {one.name.casefold(): one for one in records.unfed(panel.site, but=panel)}
    for said in sheet.breakers:
        known = there.get((said.place.space, said.place.half.value if said.place.half else ""))
        try:
            found.steps.append(_step(panel, said, known, panels_here))
        except Refused as refusal:
            found.problems += _blamed(said.line, refusal)
    found.problems += _clashes(found.steps, circuits, panel)
    found.problems.sort(key=lambda problem: problem.line)
    return found


def _step(panel: Panel, said: Said, known: Circuit | None, panels_here: dict[str, Panel]) -> Step:
    circuit = known or Circuit(panel=panel)
    before = {name: getattr(circuit, name) for name in CHANGES}
    half = said.place.half.value if said.place.half else ""
    place = {"space": said.place.space, "poles": said.place.poles, "half": half}
    put_in(circuit, {**_told(said, known), **place}, allowed=CHANGES)
    check(circuit)
    if known:
        check_still_feeds(circuit)
    seat = said.place.seat(panel.frame)
    circuit.slots = seat.slots
    feeds = _feeds(said, circuit, known, panels_here)
    changes = [
        Change(_header(name), before[name], getattr(circuit, name))
        for name in CHANGES
        if known and getattr(circuit, name) != before[name]
    ]
    if feeds:
        changes.append(Change(HEADERS["feeds"], "", feeds.name))
    verb = Verb.ADD if known is None else Verb.CHANGE if changes else Verb.SAME
    return Step(said.line, circuit, seat, verb, changes, feeds)


def _told(said: Said, known: Circuit | None) -> dict[str, Any]:
    """What the sheet says; its guess of a kind does not unsay the one on record, except that a
    spare which is named now is in use."""
    if not said.kind_is_guessed or known is None or known.kind == Circuit.Kind.SPARE:
        return said.values
    return {name: value for name, value in said.values.items() if name != "kind"}


def _feeds(
    said: Said, circuit: Circuit, known: Circuit | None, panels_here: dict[str, Panel]
) -> Panel | None:
    """The panel a feeder is to feed from now on; None where none is named or it does already."""
    if not said.feeds:
        return None
    fed = records.fed_by(known) if known else None
    if fed and fed.name.casefold() == said.feeds.casefold():
        return None
    wanted = panels_here.get(said.feeds.casefold())
    if wanted is None or fed:
        sentence = _("There is no panel “%s” here that waits for a feeder. Add it first.")
        raise Invalid(
            "no_such_panel", sentence % said.feeds, fields={"feeds": sentence % said.feeds}
        )
    return wanted


def _blamed(line: int, refusal: Refused) -> list[Problem]:
    told = refusal.fields or {"": refusal.sentence}
    return [Problem(line, _header(name), sentence) for name, sentence in told.items()]


def _header(name: str) -> str:
    """The list's header for a column of the circuit."""
    wire = {"wire_size": "wire", "wire_material": "wire", "half": "space"}
    return str(HEADERS.get(wire.get(name, name), ""))


def _clashes(steps: list[Step], circuits: Iterable[Circuit], panel: Panel) -> list[Problem]:
    """Breakers of the list that would sit on one another, or on one that is there."""
    named = {step.circuit.pk for step in steps}
    sitting: list[tuple[Circuit, Seat, int | None]] = []
    for one in circuits:
        if one.pk not in named:
            sitting.append((one, one.seat_in(panel.frame), None))
    found: list[Problem] = []
    for step in steps:
        for other, seat, line in sitting:
            if step.seat.overlaps(seat):
                found.append(Problem(step.line, HEADERS["space"], _clash(other, seat, line)))
        sitting.append((step.circuit, step.seat, step.line))
    return found


def _clash(other: Circuit, seat: Seat, line: int | None) -> str:
    said = {"name": other, "place": seat.text, "line": line}
    if line is None:
        return _("%(name)s sits in %(place)s on record. Move or remove it first.") % said
    return _("Line %(line)s puts %(name)s into %(place)s already.") % said


def _notes(sheet: Sheet, panel: Panel, circuits: Iterable[Circuit]) -> list[str]:
    """What the reader should know that stops nothing."""
    notes = []
    if sheet.unused:
        notes.append(_("Columns not used: %s.") % ", ".join(sheet.unused))
    if sheet.skipped:
        notes.append(
            _("Lines that name neither a space nor a rating were passed over: %s.")
            % span(sheet.skipped)
        )
    taken = {pole.space: one for one in circuits for pole in one.seat_in(panel.frame).poles}
    for line, space in sheet.empty:
        if space in taken:
            said = {"line": line, "space": space, "name": taken[space]}
            notes.append(
                _("Line %(line)s calls space %(space)s empty; %(name)s is there and stays.") % said
            )
    return notes


@recorded
def take_in(*, uploaded: UploadedList, panel: Panel, by: Person, now: dt.datetime) -> UploadedList:
    """Put in and change what the list says, worked out anew: what was shown may be old by now."""
    panel = lock_panel(panel)
    uploaded = UploadedList.objects.select_for_update().get(pk=uploaded.pk)
    if uploaded.taken_at is not None:
        raise Refused("list_taken", _("This list was taken in already."))
    found = plan(panel, lines_of(uploaded))
    if found.problems:
        raise Invalid("list_has_bad_rows", _bad_rows(found))
    todo = [step for step in found.steps if step.verb is not Verb.SAME]
    with last_guard(panel, *(step.circuit for step in todo)):
        for step in todo:
            step.circuit.save(force_insert=step.verb is Verb.ADD)
    for step in todo:
        if step.feeds:
            feeders.feed_panel(panel=step.feeds, circuit=step.circuit, by=by)
    uploaded.taken_at = now
    uploaded.outcome = {verb.value: found.count(verb) for verb in Verb}
    uploaded.save()
    return uploaded


def _bad_rows(found: Plan) -> str:
    rows = len({problem.line for problem in found.problems})
    told = ngettext(
        "%s line cannot be used, so nothing was taken in. Mend the file and choose it again.",
        "%s lines cannot be used, so nothing was taken in. Mend the file and choose it again.",
        rows,
    )
    return told % rows
