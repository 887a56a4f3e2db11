"""Homes calculated again by real workers: killed at work, and a broker that forgets everything."""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable

import pytest

from contractor.celery import app
from panels.models import Calculation, Recalculation
from panels.services import recalculations
from tests.factories.panels import a_recorder
from tests.panels.again import NOW, TODAY, a_home, adopt, keep
from tests.workers import Workers

HOMES = 240  # several batches
WAITING, HAND = "panels.tasks.recalculate_waiting", "panels.tasks.recalculate"


@pytest.fixture
def run(transactional_db: None) -> Recalculation:
    adopt("OH", "2017")
    first = keep(a_home())
    copies = []
    for _each in range(HOMES - 1):
        site = a_home()
        copies.append(
            Calculation(**{
                field.attname: getattr(first, field.attname)
                for field in Calculation._meta.concrete_fields
                if field.attname not in ("id", "site_id")
            }, site_id=site.pk)
        )  # fmt: skip
    Calculation.objects.bulk_create(copies)
    newer = adopt("OH", "2026", since=dt.date(2026, 11, 1))
    return recalculations.ask(adoption=newer, by=a_recorder(), now=NOW, today=TODAY)


def wait_until(run: Recalculation, so: Callable[[], bool]) -> None:
    patience = time.monotonic() + 60
    while time.monotonic() < patience:
        run.refresh_from_db()
        if so():
            return
        time.sleep(0.02)
    raise AssertionError(f"{run.state}, {run.done} of {run.total} after a minute")


def nothing_twice_and_nothing_left(run: Recalculation) -> None:
    assert (run.state, run.done, run.changed, run.failed) == ("done", HOMES, HOMES, 0)
    assert Calculation.objects.filter(edition="2026").count() == HOMES
    assert run.lines.filter(state="changed").values("after").distinct().count() == HOMES


def test_a_worker_killed_at_work_leaves_the_rest_for_the_next_one(
    run: Recalculation, celery_worker: Workers
) -> None:
    first = celery_worker(at=NOW)
    app.send_task(HAND, [str(run.pk)])
    wait_until(run, lambda: run.done > 0)
    first.child.stop()  # SIGKILL, in the middle of a batch
    run.refresh_from_db()
    assert 0 < run.done < HOMES, "the worker was not killed at work"
    done = run.done
    assert Calculation.objects.filter(edition="2026").count() == done
    with app.connection_for_write() as broker:
        broker.default_channel.client.flushall()
    second = celery_worker(at=NOW + dt.timedelta(minutes=2))
    second.run(WAITING)  # the next tick of the clock
    wait_until(run, lambda: not run.is_open)
    nothing_twice_and_nothing_left(run)


def test_two_workers_share_a_round(run: Recalculation, celery_worker: Workers) -> None:
    workers = [celery_worker(at=NOW) for _each in range(2)]
    workers[0].run(WAITING)
    wait_until(run, lambda: not run.is_open)
    nothing_twice_and_nothing_left(run)
