"""Ask for the homes of an adoption to be calculated again, stop that, and go on with it."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db import IntegrityError, connection, transaction
from django.db.models import QuerySet, Value
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Person
from panels.models import Adoption, Calculation, Recalculated, Recalculation
from panels.queries.governed import day_of, governed, last_kept
from panels.services.adoptions import stated


@recorded
def ask(*, adoption: Adoption, by: Person, now: dt.datetime, today: dt.date) -> Recalculation:
    """Put every last calculation of the homes this adoption governs in line, as of the day nearest
    to today on which it counts. Workers do the rest. Refused where there is none, and while
    another round for the same adoption is under way."""
    asked = Recalculation(
        id=uuid.uuid4(),
        adoption=adoption,
        where=adoption.where,
        edition=adoption.edition,
        amendments=adoption.amendments,
        edition_by=stated(adoption.where, adoption)[:300],
        purpose=_purpose(adoption),
        on=day_of(adoption, today=today),
        asked_by=by,
        asked_at=now,
    )
    try:
        with transaction.atomic():
            asked.save(force_insert=True)
    except IntegrityError as taken:
        sentence = _("The homes of this adoption are being calculated again already.")
        raise Refused("under_way", sentence) from taken
    asked.total = _put_in_line(asked, last_kept(governed(adoption)))
    if not asked.total:
        sentence = _("No home there has a calculation on record; there is nothing to do again.")
        raise Refused("nothing_kept", sentence)
    asked.homes = asked.lines.order_by().values("site").distinct().count()
    asked.save(update_fields=["total", "homes"])
    return asked


@recorded
def stop(*, recalculation: Recalculation, by: Person, now: dt.datetime) -> None:
    """Leave the rest as it is. What was kept until now stays; going on later is possible."""
    open_ = Recalculation.objects.filter(pk=recalculation.pk, state=Recalculation.State.WORKING)
    if not open_.update(state=Recalculation.State.STOPPED, ended_at=now):
        raise Refused("not_under_way", _("This is not being calculated any more."))


@recorded
def go_on(*, recalculation: Recalculation, by: Person) -> None:
    """Take up what was stopped. Refused while another round for the same adoption is under way."""
    stopped = Recalculation.objects.filter(pk=recalculation.pk, state=Recalculation.State.STOPPED)
    try:
        with transaction.atomic():
            went = stopped.update(state=Recalculation.State.WORKING, ended_at=None, worked_at=None)
    except IntegrityError as taken:
        sentence = _("The homes of this adoption are being calculated again already.")
        raise Refused("under_way", sentence) from taken
    if not went:
        raise Refused("not_stopped", _("This was not stopped."))


def _put_in_line(asked: Recalculation, kept: QuerySet[Calculation]) -> int:
    """One row for each, written by the database itself: there may be a hundred thousand."""
    rows = kept.values_list(
        Value(str(asked.pk)), "site_id", "method", "pk", Value(Recalculated.State.WAITING.value)
    )
    chosen, given = rows.query.sql_with_params()
    into = (
        f"INSERT INTO {Recalculated._meta.db_table}"  # noqa: S608 - names of our own
        " (recalculation_id, site_id, method, before_id, state, over, record_changed, why) "
        f"SELECT a::uuid, b, c, d, e, false, false, '' FROM ({chosen}) AS last (a, b, c, d, e)"
    )
    with connection.cursor() as cursor:
        cursor.execute(into, given)
        return int(cursor.rowcount)


def _purpose(adoption: Adoption) -> str:
    told = _("Calculated again: %(place)s, edition %(edition)s since %(since)s") % {
        "place": adoption.where,
        "edition": adoption.edition,
        "since": adoption.since.isoformat(),
    }
    return told[:200]
