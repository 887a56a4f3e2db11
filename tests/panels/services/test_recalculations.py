"""Asking for homes to be calculated again, stopping it, going on with it."""

from __future__ import annotations

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from contractor.errors import Refused
from panels.models import Adoption, Recalculated, Recalculation
from panels.services import adoptions, recalculating, recalculations
from tests.factories.panels import a_recorder
from tests.panels.again import NOW, TODAY, a_home, adopt, keep

pytestmark = pytest.mark.django_db


def ask(adoption: Adoption) -> Recalculation:
    return recalculations.ask(adoption=adoption, by=a_recorder(), now=NOW, today=TODAY)


@pytest.fixture
def coming() -> Adoption:
    """Two homes calculated by the edition in force, and the one to come."""
    adopt("OH", "2017")
    for _each in range(2):
        keep(a_home())
    return adopt("OH", "2026", since=dt.date(2027, 1, 1))


def test_every_last_calculation_waits_in_line(coming: Adoption) -> None:
    run = ask(coming)
    assert (run.homes, run.total, run.done, run.state) == (2, 2, 0, "working")
    assert run.on == dt.date(2027, 1, 1)
    assert run.edition == "2026"
    assert run.purpose == "Calculated again: OH, edition 2026 since 2027-01-01"
    assert set(run.lines.values_list("state", "method")) == {("waiting", "optional")}


def test_nothing_is_asked_twice_at_a_time(coming: Adoption) -> None:
    run = ask(coming)
    with pytest.raises(Refused, match="being calculated again already"):
        ask(coming)
    with pytest.raises(IntegrityError), transaction.atomic():
        Recalculation.objects.create(
            adoption=coming, where="OH", edition="2026", on=TODAY, asked_by=run.asked_by,
            asked_at=NOW,
        )  # fmt: skip


def test_a_place_without_calculations_is_refused_and_leaves_no_round() -> None:
    with pytest.raises(Refused, match="nothing to do again"):
        ask(adopt("KY", "2023"))
    assert not Recalculation.objects.exists()


def test_what_is_stopped_is_left_alone_until_it_goes_on(coming: Adoption) -> None:
    run, by = ask(coming), a_recorder()
    recalculations.stop(recalculation=run, by=by, now=NOW)
    assert recalculating.work_batch(run.pk, now=NOW) == 0
    assert recalculating.left_alone(now=NOW) == []
    with pytest.raises(Refused, match="not being calculated any more"):
        recalculations.stop(recalculation=run, by=by, now=NOW)
    recalculations.go_on(recalculation=run, by=by)
    with pytest.raises(Refused, match="was not stopped"):
        recalculations.go_on(recalculation=run, by=by)
    assert recalculating.left_alone(now=NOW) == [run.pk]
    assert recalculating.work_batch(run.pk, now=NOW) == 2


def test_a_stopped_round_does_not_go_on_beside_a_newer_one(coming: Adoption) -> None:
    first = ask(coming)
    recalculations.stop(recalculation=first, by=a_recorder(), now=NOW)
    ask(coming)
    with pytest.raises(Refused, match="being calculated again already"):
        recalculations.go_on(recalculation=first, by=a_recorder())


def test_a_round_outlives_the_adoption_it_was_asked_for(coming: Adoption) -> None:
    run = ask(coming)
    adoptions.remove_adoption(adoption=coming, by=a_recorder())
    assert recalculating.work_batch(run.pk, now=NOW) == 2
    assert Recalculated.objects.filter(recalculation=run, after__edition="2026").count() == 2
