"""What the hands do with the homes that wait: once each, only where something differs."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext

from panels.models import Adoption, Calculation, Home, Recalculated, Recalculation
from panels.rules.questions import QUESTIONS
from panels.services import load, recalculating, recalculations
from panels.services.calculations import compared
from tests.factories.panels import a_recorder
from tests.panels.again import NOW, TODAY, a_home, adopt, keep

pytestmark = pytest.mark.django_db
LATER = NOW + dt.timedelta(minutes=5)


def again(adoption: Adoption) -> Recalculation:
    """Asked for and worked to its end."""
    run = recalculations.ask(adoption=adoption, by=a_recorder(), now=LATER, today=TODAY)
    while recalculating.work_batch(run.pk, now=LATER):
        pass
    run.refresh_from_db()
    return run


def counted(run: Recalculation) -> dict[str, Any]:
    return {"state": run.state, "done": run.done, "changed": run.changed, "failed": run.failed}


def test_a_new_edition_keeps_a_new_calculation_beside_the_old_one() -> None:
    """D2(a) of Annex D in 2017; the check values compute 19,680 VA for 2026 [C]."""
    adopt("OH", "2017", since=dt.date(2019, 7, 1))
    before = keep(a_home())
    run = again(adopt("OH", "2026", since=dt.date(2026, 11, 1)))
    assert counted(run) == {"state": "done", "done": 1, "changed": 1, "failed": 0}
    line = run.lines.get()
    assert (before.total_va, line.after.total_va) == (21_480, 19_680)
    assert line.before == before
    assert line.after.purpose == "Calculated again: OH, edition 2026 since 2026-11-01"
    assert line.after.edition_by.startswith("Adopted by OH, in force since 2026-11-01")
    assert line.after.on == TODAY
    assert line.after.site.calculations.count() == 2
    assert not line.record_changed
    assert "General lighting" in {one.label for one in compared(before, line.after) if one.differs}


def test_the_same_edition_with_the_same_answer_keeps_nothing() -> None:
    adoption = adopt("OH", "2017")
    keep(a_home())
    run = again(adoption)
    assert counted(run) == {"state": "done", "done": 1, "changed": 0, "failed": 0}
    assert Calculation.objects.count() == 1
    assert run.lines.get().state == Recalculated.State.SAME


def test_asked_a_second_time_nothing_is_kept_again() -> None:
    adopt("OH", "2017")
    keep(a_home())
    newer = adopt("OH", "2026", since=dt.date(2026, 11, 1))
    assert again(newer).changed == 1
    assert again(newer).changed == 0
    assert Calculation.objects.count() == 2


def test_an_amendment_alone_is_reason_enough() -> None:
    keep_by = adopt("OH", "2017")
    keep(a_home())
    amendment = {"field": "lighting.unit_load", "value": "4 VA/ft2", "source": "Ordinance 9"}
    keep_by.amendments = [amendment]
    keep_by.save()
    line = again(keep_by).lines.get()
    assert line.after.total_va - line.before.total_va == pytest.approx(0.40 * 1500)
    assert line.after.result["amendments"] == ["lighting.unit_load = 4 VA/ft² (Ordinance 9)"]


def test_a_home_above_its_service_is_marked_and_one_changed_since_says_so() -> None:
    adoption = adopt("OH", "2017")
    site = a_home(service_a=100)
    keep(site)
    small, plain = a_home(service_a=100), a_home(service_a=None)
    for one in (small, plain):
        keep(one)
    load.add_load(
        site=site, by=a_recorder(), kind="vehicle", name="Car", nameplate=11.5, unit="kVA"
    )
    lines = {line.site_id: line for line in again(adoption).lines.all()}
    car = lines[site.pk]
    assert (car.over, car.record_changed, car.state) == (True, True, "changed")
    assert car.after.amps > 100 > car.before.amps
    assert (lines[small.pk].over, lines[small.pk].record_changed) == (False, False)
    assert not lines[plain.pk].over


def test_a_home_that_cannot_be_calculated_fails_in_words_and_stops_nobody() -> None:
    adopt("OH", "2017")
    wrong, fine = a_home(), a_home()
    for site in (wrong, fine):
        keep(site)
    Home.objects.filter(site=wrong).update(small_appliance_circuits=1)
    run = again(adopt("OH", "2026", since=dt.date(2026, 11, 1)))
    assert counted(run) == {"state": "done", "done": 2, "changed": 1, "failed": 1}
    assert "at least 2 (210.11(C)(1))" in run.lines.get(site=wrong).why


def test_a_home_whose_facts_are_gone_fails_in_words() -> None:
    adoption = adopt("OH", "2017")
    site = a_home()
    keep(site)
    run = recalculations.ask(adoption=adoption, by=a_recorder(), now=LATER, today=TODAY)
    Home.objects.filter(site=site).delete()
    recalculating.work_batch(run.pk, now=LATER)
    assert run.lines.get().why.startswith("Record the floor area and the circuits")


def test_a_fault_of_the_program_in_one_method_stops_no_other(monkeypatch: Any) -> None:
    adoption = adopt("OH", "2017")
    site = a_home()
    for method in ("standard", "optional"):
        keep(site, method=method)
    divided = replace(QUESTIONS["standard"], answer=lambda _home, _edition: 1 / 0)
    monkeypatch.setitem(QUESTIONS, "standard", divided)
    run = again(adoption)
    assert counted(run) == {"state": "done", "done": 2, "changed": 0, "failed": 1}
    assert "ZeroDivisionError" in run.lines.get(method="standard").why


def test_hands_pass_over_what_another_one_holds(monkeypatch: Any) -> None:
    monkeypatch.setattr(recalculating, "BATCH", 1)
    adopt("OH", "2017")
    for _each in range(3):
        keep(a_home())
    run = recalculations.ask(
        adoption=adopt("OH", "2026", since=dt.date(2026, 11, 1)),
        by=a_recorder(), now=LATER, today=TODAY,
    )  # fmt: skip
    assert [recalculating.work_batch(run.pk, now=LATER) for _each in range(5)] == [1, 1, 1, 0, 0]
    run.refresh_from_db()
    assert counted(run) == {"state": "done", "done": 3, "changed": 3, "failed": 0}


def test_a_batch_asks_the_database_as_often_for_one_home_as_for_many() -> None:
    counts = []
    for edition, homes in (("2020", 1), ("2023", 6)):
        adopt("OH", "2017", since=dt.date(2000 + homes, 1, 1))
        for _each in range(homes):
            keep(a_home())
        newer = adopt("OH", edition, since=dt.date(2026, 11, homes))
        run = recalculations.ask(adoption=newer, by=a_recorder(), now=LATER, today=TODAY)
        with CaptureQueriesContext(connection) as queries:
            recalculating.work_batch(run.pk, now=LATER)
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_a_line_counts_as_changed_only_with_its_new_calculation() -> None:
    adoption = adopt("OH", "2017")
    keep(a_home())
    line = again(adoption).lines.get()
    with pytest.raises(IntegrityError), transaction.atomic():
        Recalculated.objects.filter(pk=line.pk).update(state="changed")
