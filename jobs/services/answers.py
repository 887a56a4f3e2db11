"""Answer a line of the close-out list: tick it, write on it, or say that it does not apply."""

from __future__ import annotations

import datetime as dt

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from jobs.models import CloseOutLine
from jobs.planning.words import CloseOutKind
from jobs.services.guards import open_line


@recorded
def tick(
    *, line: CloseOutLine, by: Person, now: dt.datetime, done: bool = True, rev: int | None = None
) -> CloseOutLine:
    """Ticked by whom and when; `done=False` takes the tick back. Repeated it changes nothing."""
    line = open_line(line, by)
    _asks(line, CloseOutKind.CHECK)
    if (line.done_at is not None) == done and not line.not_applicable:
        return line
    line.require_rev(rev)
    line.not_applicable, line.note = False, ""
    return give(line, by=by, now=now) if done else withdraw(line)


@recorded
def write(
    *, line: CloseOutLine, text: str, by: Person, now: dt.datetime, rev: int | None = None
) -> CloseOutLine:
    """The words the line asks for; no words take the answer back."""
    line = open_line(line, by)
    _asks(line, CloseOutKind.TEXT)
    if line.note == text.strip() and not line.not_applicable:
        return line
    line.require_rev(rev)
    line.not_applicable, line.note = False, text.strip()
    return give(line, by=by, now=now) if line.note else withdraw(line)


@recorded
def does_not_apply(
    *, line: CloseOutLine, because: str, by: Person, now: dt.datetime, rev: int | None = None
) -> CloseOutLine:
    """Nothing to prove here, and why; where the firm's list allows it."""
    line = open_line(line, by)
    because = because.strip()
    if line.not_applicable and line.note == because:
        return line
    line.require_rev(rev)
    if line.required and not line.may_not_apply:
        raise Refused(
            "must_apply",
            _("“%(line)s” always applies. Ask the office if it cannot be done.")
            % {"line": line.label},
        )
    if not because:
        sentence = _("Say in a few words why it does not apply here.")
        raise Invalid("reason_missing", sentence, fields={"because": sentence})
    if line.done_at:
        raise Refused(
            "line_answered",
            _("“%(line)s” has been answered already. Take that back first.") % {"line": line.label},
        )
    line.not_applicable, line.note = True, because
    return give(line, by=by, now=now)


@recorded
def applies_after_all(*, line: CloseOutLine, by: Person, rev: int | None = None) -> CloseOutLine:
    line = open_line(line, by)
    if not line.not_applicable:
        return line
    line.require_rev(rev)
    line.not_applicable, line.note = False, ""
    return withdraw(line)


def give(line: CloseOutLine, *, by: Person, now: dt.datetime) -> CloseOutLine:
    """Write down who answered and when; the caller holds the job's lock."""
    line.done_by, line.done_at = by, now
    return _saved(line)


def withdraw(line: CloseOutLine) -> CloseOutLine:
    line.done_by = line.done_at = None
    return _saved(line)


def _saved(line: CloseOutLine) -> CloseOutLine:
    line.save()
    line.refresh_from_db(fields=["rev", "changed_at"])
    return line


def _asks(line: CloseOutLine, kind: CloseOutKind) -> None:
    if line.asks != kind:
        raise Refused(
            "other_proof",
            _("“%(line)s” asks for %(asks)s.")
            % {"line": line.label, "asks": line.get_asks_display()},
        )
