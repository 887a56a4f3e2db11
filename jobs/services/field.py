"""On site: here I am, I am leaving, what I saw; and each of them taken back."""

from __future__ import annotations

import datetime as dt

from django.db import IntegrityError, transaction
from django.db.backends.postgresql.psycopg_any import DateTimeTZRange
from django.utils.translation import gettext as _

from contractor.errors import Refused, Several
from contractor.history import recorded
from contractor.models import Person
from jobs import queries
from jobs.models import Visit
from jobs.planning.words import Code, VisitState, said
from jobs.services.assigning import move
from jobs.services.guards import open_visit, unusable
from jobs.services.inspections import fall_due
from panels.services.readings import AHEAD

MINUTE = dt.timedelta(minutes=1)


@recorded
def arrive(
    *, visit: Visit, by: Person, now: dt.datetime, at: dt.datetime | None = None,
    rev: int | None = None,
) -> Visit:  # fmt: skip
    """ "I am here." Pressed twice it is said once. Refused before its day, and while something
    it waits for has not been released."""
    visit = open_visit(visit, by)
    if visit.state == VisitState.UNDER_WAY:
        return visit
    visit.require_rev(rev)
    _begin(visit, at=_moment(at, now, "arrived_at"))
    return _kept(visit)


@recorded
def leave(
    *, visit: Visit, by: Person, now: dt.datetime, at: dt.datetime | None = None,
    rev: int | None = None,
) -> Visit:  # fmt: skip
    """ "I am leaving": the visit is done, and inspections that follow it fall due."""
    visit = open_visit(visit, by)
    if visit.state == VisitState.DONE:
        return visit
    visit.require_rev(rev)
    if visit.state == VisitState.PLANNED:
        raise Refused("not_arrived", _("Nobody has arrived yet. Say first that you are here."))
    finish(visit, at=_moment(at, now, "left_at"))
    return _kept(visit)


@recorded
def take_back_arrival(*, visit: Visit, by: Person, rev: int | None = None) -> Visit:
    visit = open_visit(visit, by)
    if visit.state == VisitState.PLANNED:
        return visit
    visit.require_rev(rev)
    move(visit, VisitState.PLANNED)
    visit.arrived_at = None
    return _kept(visit)


@recorded
def take_back_leaving(*, visit: Visit, by: Person, rev: int | None = None) -> Visit:
    """Still here: refused when someone has meanwhile been sent elsewhere for that time."""
    visit = open_visit(visit, by)
    if visit.state == VisitState.UNDER_WAY:
        return visit
    visit.require_rev(rev)
    move(visit, VisitState.UNDER_WAY)
    visit.left_at = None
    _engaged_until(visit, None)
    visit.save()
    fall_due(visit=visit)
    return _kept(visit)


@recorded
def correct_times(
    *, visit: Visit, arrived_at: dt.datetime, left_at: dt.datetime | None, by: Person,
    now: dt.datetime, rev: int | None = None,
) -> Visit:  # fmt: skip
    """When it really was: for a press forgotten or made too late. Without `left_at` someone is
    still there."""
    visit = open_visit(visit, by)
    visit.require_rev(rev)
    arrived_at = _moment(arrived_at, now, "arrived_at")
    if visit.state not in (VisitState.UNDER_WAY, VisitState.DONE):
        _begin(visit, at=arrived_at)
    elif visit.state == VisitState.DONE and left_at is None:
        move(visit, VisitState.UNDER_WAY)
    visit.arrived_at, visit.left_at = arrived_at, None
    if left_at is not None:
        finish(visit, at=_moment(left_at, now, "left_at"))
    else:
        _engaged_until(visit, None)
        visit.save()
        fall_due(visit=visit)
    return _kept(visit)


@recorded
def note(*, visit: Visit, text: str, by: Person, rev: int | None = None) -> Visit:
    """The notes from the field as they read now; whoever comes next reads them."""
    visit = open_visit(visit, by)
    if visit.notes == text.strip():
        return visit
    visit.require_rev(rev)
    visit.notes = text.strip()
    return _kept(visit)


def finish(visit: Visit, *, at: dt.datetime) -> None:
    """Done as of that moment; the caller holds the job's lock."""
    if visit.arrived_at and at < visit.arrived_at:
        raise unusable("left_at", _("You cannot have left before you arrived."))
    if visit.state != VisitState.DONE:
        move(visit, VisitState.DONE)
    visit.left_at = at
    _engaged_until(visit, at)
    visit.save()
    fall_due(visit=visit)


def _begin(visit: Visit, *, at: dt.datetime) -> None:
    _on_its_day(visit, at)
    _released(visit)
    move(visit, VisitState.UNDER_WAY)
    visit.arrived_at = at


def _on_its_day(visit: Visit, at: dt.datetime) -> None:
    """A slip of the thumb on next week's visit would tell everyone the wrong thing."""
    if visit.starts_at is None:
        return  # not planned: `move` says so
    day = visit.starts_at.astimezone(visit.job.site.zone).date()
    if at.astimezone(visit.job.site.zone).date() < day:
        raise Refused(
            "not_today",
            _(
                "%(visit)s is planned for %(day)s. If you are doing it today, ask the office to "
                "move it, so that the plan stays true."
            )
            % {"visit": visit.name, "day": said(day)},
        )


def _released(visit: Visit) -> None:
    """What the office insisted on when it planned the visit is not asked about again."""
    if visit.overrides.filter(code=Code.HOLD).exists():
        return
    waiting = [
        Refused(
            "hold",
            _("%(visit)s waits for: %(hold)s. The office has to release it first.")
            % {"visit": visit.name, "hold": queries.waiting_for(hold)},
        )
        for hold in queries.open_holds(visit)
    ]
    if waiting:
        raise Several(waiting)


def _engaged_until(visit: Visit, moment: dt.datetime | None) -> None:
    """Whoever leaves early is free for other work; None takes the planned time again."""
    if visit.starts_at is None or visit.ends_at is None:
        return
    until = min(max(moment or visit.ends_at, visit.starts_at + MINUTE), visit.ends_at)
    try:
        with transaction.atomic():
            visit.assignments.update(during=DateTimeTZRange(visit.starts_at, until))
    except IntegrityError as error:
        raise Refused(
            "sent_elsewhere",
            _("Someone of this crew has meanwhile been put on other work. Ask the office."),
        ) from error


def _moment(at: dt.datetime | None, now: dt.datetime, field: str) -> dt.datetime:
    if at is not None and at > now + AHEAD:
        raise unusable(field, _("This time lies in the future. Check it."))
    return at or now


def _kept(visit: Visit) -> Visit:
    visit.save()
    visit.refresh_from_db(fields=["rev", "changed_at"])
    return visit
