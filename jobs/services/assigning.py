"""Put a crew on a visit, day and time, or say everything that stands against it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence

from django.db import IntegrityError, transaction
from django.db.backends.postgresql.psycopg_any import DateTimeTZRange
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused, Several
from contractor.history import recorded
from contractor.models import Crew, Person
from jobs import hooks, queries
from jobs.models import Assignment, Override, Visit
from jobs.planning.refusals import Refusal, refusals
from jobs.planning.words import MOVES, Code, VisitState
from jobs.services.locking import lock_crew_and_people, lock_visit

LONGEST_REASON = 300
ONE_PLACE = "one_place_at_a_time"  # the exclusion constraint's name


@recorded
def assign_crew(
    *,
    visit: Visit,
    crew: Crew,
    starts_at: dt.datetime,
    by: Person,
    now: dt.datetime,
    ends_at: dt.datetime | None = None,
    people: Iterable[Person] | None = None,
    overrides: Mapping[str, str] | None = None,
    rev: int | None = None,
) -> Visit:
    """Plan the visit, or move it: crew, people and time are set together.

    `people` defaults to the crew's usual ones, `ends_at` to the expected minutes. `overrides`
    maps a refusal's code to the reason for insisting; reasons are kept. Raises `Several` with
    one entry per reason against it, and then nothing is written.
    """
    crew, going = lock_crew_and_people(
        crew, crew.people.filter(is_active=True) if people is None else people
    )
    visit = lock_visit(visit)
    visit.require_rev(rev)
    ends_at = ends_at or starts_at + dt.timedelta(minutes=visit.expected_minutes)
    was = before(visit)
    insisted = _against(visit, crew, going, starts_at, ends_at, now=now, overrides=overrides or {})
    for refusal, reason in insisted:
        Override.objects.create(
            visit=visit, code=refusal.code, sentence=told(refusal), reason=reason, by=by, at=now
        )
    visit.crew, visit.starts_at, visit.ends_at = crew, starts_at, ends_at
    visit.state, visit.planned_at = VisitState.PLANNED, now
    visit.save(update_fields=["crew", "starts_at", "ends_at", "state", "planned_at"])
    _put_on(visit, crew, going, starts_at, ends_at)
    visit.refresh_from_db(fields=["rev", "changed_at"])
    hooks.run("AFTER_ASSIGN", visit=visit, before=was, by=by, now=now)
    return visit


def before(visit: Visit) -> hooks.Before | None:
    """When the customer expects the visit as things stand; None while it is not planned."""
    if visit.state != VisitState.PLANNED or visit.starts_at is None or visit.ends_at is None:
        return None
    return hooks.Before(
        starts_at=visit.starts_at,
        ends_at=visit.ends_at,
        promised_from=visit.promised_from,
        promised_until=visit.promised_until,
        crew_id=visit.crew_id,
    )


def check(
    *, visit: Visit, crew: Crew, people: Sequence[Person], starts_at: dt.datetime,
    ends_at: dt.datetime, now: dt.datetime,
) -> list[Refusal]:  # fmt: skip
    """What would stand against it; writes nothing, so a page may ask before anyone decides."""
    ask = queries.ask_for(
        visit, crew=crew, people=people, starts_at=starts_at, ends_at=ends_at, now=now
    )
    return refusals(ask, may_override=queries.may_override())


def _against(
    visit: Visit, crew: Crew, going: Sequence[Person], starts_at: dt.datetime,
    ends_at: dt.datetime, *, now: dt.datetime, overrides: Mapping[str, str],
) -> list[tuple[Refusal, str]]:  # fmt: skip
    """The refusals insisted against, with their reasons; raises the ones that stand."""
    if ends_at <= starts_at:
        raise Invalid("ends_before_start", _("The visit has to end after it starts."))
    found = check(
        visit=visit, crew=crew, people=going, starts_at=starts_at, ends_at=ends_at, now=now
    )
    reasons = {code: reason.strip() for code, reason in overrides.items() if reason.strip()}
    if any(len(reason) > LONGEST_REASON for reason in reasons.values()):
        raise Invalid("reason_long", _("Give the reason in fewer than 300 letters."))
    stands = [
        refusal for refusal in found if not refusal.can_override or refusal.code not in reasons
    ]
    if stands:
        raise Several([_refused(refusal) for refusal in stands])
    return [(refusal, reasons[refusal.code]) for refusal in found]


def told(refusal: Refusal) -> str:
    """The sentence in the reader's language."""
    return _(refusal.words).format(**refusal.values)


def _refused(refusal: Refusal) -> Refused:
    return Refused(refusal.code.value, told(refusal), can_override=refusal.can_override)


def _put_on(
    visit: Visit, crew: Crew, people: Sequence[Person], starts_at: dt.datetime, ends_at: dt.datetime
) -> None:
    """The database has the last word on one place at a time; its no becomes our sentence."""
    visit.assignments.all().delete()
    try:
        with transaction.atomic():
            Assignment.objects.bulk_create(
                Assignment(visit=visit, person=person, during=DateTimeTZRange(starts_at, ends_at))
                for person in people
            )
    except IntegrityError as error:
        if ONE_PLACE not in str(error):
            raise
        found = check(
            visit=visit, crew=crew, people=people, starts_at=starts_at, ends_at=ends_at,
            now=starts_at,
        )  # fmt: skip
        raise _taken([refusal for refusal in found if refusal.code is Code.TWICE]) from error


def _taken(twice: list[Refusal]) -> Refused:
    if not twice:  # the other visit was taken off again in the meantime
        return Refused("twice", _("Someone else was just planning these people. Try again."))
    return Several([_refused(refusal) for refusal in twice])


@recorded
def unassign(*, visit: Visit, by: Person, now: dt.datetime, rev: int | None = None) -> Visit:
    """Take the visit off the plan; its people are free again."""
    visit = lock_visit(visit)
    visit.require_rev(rev)
    if visit.state == VisitState.UNPLANNED:
        return visit
    return tell_and_take_off(visit, to=VisitState.UNPLANNED, by=by, now=now)


def tell_and_take_off(visit: Visit, *, to: VisitState, by: Person, now: dt.datetime) -> Visit:
    """Off the plan into another state; whoever told the customer hears of it."""
    was = before(visit)
    take_off(visit, to=to)
    if was:
        hooks.run("AFTER_UNASSIGN", visit=visit, before=was, by=by, now=now)
    return visit


def take_off(visit: Visit, *, to: VisitState) -> None:
    move(visit, to)
    visit.assignments.all().delete()
    visit.crew = visit.starts_at = visit.ends_at = visit.planned_at = None
    visit.save(update_fields=["state", "crew", "starts_at", "ends_at", "planned_at"])
    visit.refresh_from_db(fields=["rev", "changed_at"])


def move(visit: Visit, to: VisitState) -> None:
    """Set the state if it may follow the present one."""
    if to not in MOVES[VisitState(visit.state)]:
        raise Refused(
            "wrong_state",
            _("%(visit)s is %(state)s, so that cannot be done now.")
            % {"visit": visit.name, "state": visit.get_state_display()},
        )
    visit.state = to
