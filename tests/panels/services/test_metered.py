"""The metered method from a file's readings, worked out and kept."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from contractor.errors import Refused
from panels.models import Calculation, MeterData
from panels.rules.errors import BadDescription, NotCovered, UnknownEdition
from panels.services import load, meter, metered
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_recorder
from tests.panels import metering
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 1, 20, 15, 0, tzinfo=dt.UTC)
SAID = {"power_factor": 0.9, "renewable": "no", "system": "1ph-240", "service_a": 100}


def data_of(*, days: int = 365, value: int = 500, flow: int = 1) -> MeterData:
    site = SiteFactory()
    adopted(site)
    rows = [(metering.NEW_YEAR_2025 + n * 3600, 3600, value) for n in range(days * 24)]
    parts = metering.feed((metering.DELIVERED | {"flowDirection": flow}, rows))
    taken, _ = meter.take_in(
        site=site, file=metering.opened(parts), name="year.xml", by=a_recorder(), now=NOW
    )
    return taken


def keep(data: MeterData, **said: Any) -> Calculation:
    return metered.keep(data=data, said=SAID | said, by=a_recorder(), now=NOW)


def test_a_kept_answer_names_its_file_and_holds_the_loads_on_record():
    data = data_of()
    car = load.add_load(
        site=data.site, by=a_recorder(), kind="vehicle", name="Car", nameplate=11.5, unit="kVA",
        new=True,
    )  # fmt: skip
    shown = metered.work_out(data=data, said=SAID | {"new_loads": [car]}, now=NOW)
    assert not Calculation.objects.exists()
    kept = keep(data, new_loads=[car])
    assert kept.total_va == pytest.approx(500 / 0.9 * 1.25 + 11_500, abs=0.001)
    assert kept.total_va == pytest.approx(shown.result.value("load").magnitude, abs=0.001)
    assert kept.inputs["source"] == {"file": "year.xml", "sha256": data.digest[:16]}
    assert kept.inputs["new_loads"][0]["name"] == "Car"
    assert {line.key for line in shown.headlines} == {"load", "current", "rating", "left"}


@pytest.mark.parametrize(
    ("made", "said", "error", "words"),
    [
        ({"flow": 4}, {}, Refused, "source of its own"),
        ({"days": 20}, {}, Refused, "at least 30"),
        ({"days": 60}, {"occupied": "yes"}, NotCovered, "15 minutes"),
        ({}, {"renewable": "yes"}, NotCovered, "source of its own"),
        ({}, {"power_factor": None}, BadDescription, "power factor"),
    ],
)
def test_what_closes_the_method_keeps_nothing(made, said, error, words):
    with pytest.raises(error, match=words):
        keep(data_of(**made), **said)
    assert not Calculation.objects.exists()


def test_an_unknown_edition_is_asked_for():
    data = data_of()
    data.site.authority.adoptions.all().delete()
    with pytest.raises(UnknownEdition):
        keep(data)
    assert keep(data, edition="2023", stated_by="Inspector Ames").edition == "2023"
