"""The hands that calculate homes again, batch by batch, from the rows that wait.

A batch is one transaction: rows claimed past those another hand holds, the homes read, worked
through by the rules, and what came out kept together with the rows' new state. A hand that is
killed leaves its rows waiting; doing a batch twice is not possible.
"""

from __future__ import annotations

import datetime as dt
import logging
import uuid
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.db.models import F, Q, Value

from contractor.errors import Refused
from panels.editions import edition as edition_named
from panels.models import Calculation, Home, Load, Recalculated, Recalculation
from panels.rules.adoption import amended, amendment_from
from panels.rules.edition import Edition
from panels.rules.questions import answer
from panels.rules.working import Result
from panels.services import adoptions
from panels.services.calculations import made, no_home
from panels.services.load import described

BATCH = 100
SLICE = dt.timedelta(seconds=4)  # what else is due then gets its turn
ALIVE = dt.timedelta(seconds=30)  # several batches

log = logging.getLogger(__name__)
Clock = Callable[[], dt.datetime]
State = Recalculated.State


@dataclass(frozen=True, kw_only=True)
class Batch:
    """What a batch has read: each home in plain values, by its site."""

    run: Recalculation
    edition: Edition
    homes: dict[uuid.UUID, dict[str, Any]]
    now: dt.datetime

    def home(self, site: uuid.UUID) -> dict[str, Any]:
        try:
            return self.homes[site]
        except KeyError:
            raise no_home() from None


def left_alone(*, now: dt.datetime) -> list[uuid.UUID]:
    """Rounds that are open and that no hand has worked on for a while."""
    open_ = Recalculation.objects.filter(state=Recalculation.State.WORKING)
    quiet = Q(worked_at=None) | Q(worked_at__lt=now - ALIVE)
    return list(open_.filter(quiet).values_list("pk", flat=True))


def work(pk: uuid.UUID, *, clock: Clock) -> bool:
    """Work on a round for a slice of time; True when the time is up and more may be waiting."""
    started = clock()
    while clock() - started < SLICE:
        if not work_batch(pk, now=clock()):
            return False
    return True


@transaction.atomic
def work_batch(pk: uuid.UUID, *, now: dt.datetime) -> int:
    """One batch, in a number of queries that does not depend on its size. How many were done."""
    open_ = Recalculation.objects.filter(pk=pk, state=Recalculation.State.WORKING)
    run = open_.select_related("asked_by").first()
    lines = _claimed(run) if run else []
    if run is None or not lines:
        _end(pk, now)
        return 0
    edition = amended(edition_named(run.edition), [amendment_from(one) for one in run.amendments])
    batch = Batch(run=run, edition=edition, homes=_homes(lines), now=now)
    kept = [_settle(line, batch) for line in lines]
    _keep([one for one in kept if one is not None])
    Recalculated.objects.bulk_create(
        lines,
        update_conflicts=True,
        unique_fields=["id"],
        update_fields=["after", "state", "over", "record_changed", "why"],
    )
    _count(pk, lines, now)
    return len(lines)


def _keep(made_now: Sequence[Calculation]) -> None:
    """Inserted as VALUES, which an expression among them brings about: the arrays that Django
    would send instead take longer to quote than the homes to calculate."""
    for one in made_now:
        one.made_at = Value(one.made_at)
    Calculation.objects.bulk_create(made_now)


def _claimed(run: Recalculation) -> list[Recalculated]:
    waiting = run.lines.filter(state=State.WAITING).order_by("pk")
    return list(
        waiting.select_for_update(skip_locked=True, of=("self",))
        .select_related("site__authority", "before")
        .defer("before__result", "site__access_notes")
        .annotate(before_amendments=F("before__result__amendments"))[:BATCH]
    )


def _homes(lines: Sequence[Recalculated]) -> dict[uuid.UUID, dict[str, Any]]:
    sites = {line.site_id for line in lines}
    loads: dict[uuid.UUID, list[Load]] = defaultdict(list)
    for load in Load.objects.filter(site__in=sites):
        loads[load.site_id].append(load)
    homes = Home.objects.filter(site__in=sites)
    return {home.site_id: described(home, loads[home.site_id]) for home in homes}


def _settle(line: Recalculated, batch: Batch) -> Calculation | None:
    """Work one home through and note on its line what came of it; what is to be kept, if any."""
    try:
        inputs = batch.home(line.site_id)
        result = answer(line.method, inputs, batch.edition)
    except Refused as refusal:
        line.state, line.why = State.FAILED, refusal.sentence[:300]
        return None
    except Exception as fault:  # one unreadable home must not stand in the way of all others
        log.exception("home at site %s by %s", line.site_id, line.method)
        line.state, line.why = State.FAILED, f"A fault of the program: {fault!r}"[:300]
        return None
    line.over = any(one.key == "left" and _below_zero(one.value) for one in result.lines)
    line.record_changed = line.before.inputs != inputs
    found = _calculation(line, inputs, result, batch)
    if _is_as_before(line, found):
        line.state = State.SAME
        return None
    line.state, line.after = State.CHANGED, found
    return found


def _calculation(
    line: Recalculated, inputs: dict[str, Any], result: Result, batch: Batch
) -> Calculation:
    run = batch.run
    basis = adoptions.Basis(
        edition=batch.edition,
        jurisdiction=adoptions.jurisdiction(line.site),
        stated=run.edition_by,
    )
    return made(
        site=line.site, method=line.method, inputs=inputs, result=result, basis=basis, on=run.on,
        purpose=run.purpose, by=run.asked_by, now=batch.now,
    )  # fmt: skip


def _is_as_before(line: Recalculated, found: Calculation) -> bool:
    """By the same edition with the same amendments, and with the same load and current."""
    before = line.before
    return (before.edition, line.before_amendments, before.total_va, before.amps) == (  # type: ignore[attr-defined]
        found.edition, found.result["amendments"], found.total_va, found.amps,
    )  # fmt: skip


def _below_zero(value: Any) -> bool:
    return bool(value.magnitude < 0)


def _count(pk: uuid.UUID, lines: Sequence[Recalculated], now: dt.datetime) -> None:
    """Last in the transaction, so that hands wait for one another only here."""
    states = [line.state for line in lines]
    Recalculation.objects.filter(pk=pk).update(
        done=F("done") + len(states),
        changed=F("changed") + states.count(State.CHANGED),
        failed=F("failed") + states.count(State.FAILED),
        worked_at=now,
    )


def _end(pk: uuid.UUID, now: dt.datetime) -> None:
    """The last hand closes the round: no row waits, in nobody's hands either."""
    if not Recalculated.objects.filter(recalculation=pk, state=State.WAITING).exists():
        open_ = Recalculation.objects.filter(pk=pk, state=Recalculation.State.WORKING)
        open_.update(state=Recalculation.State.DONE, ended_at=now)
