"""A meter's file is taken in whole, once, or not at all."""

from __future__ import annotations

import datetime as dt

import pytest
from django.db import DatabaseError, transaction

from contractor.errors import Invalid, Refused
from contractor.models import Site
from panels.models import MeterData
from panels.rules.meter import Unreadable
from panels.services import meter
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_recorder
from tests.panels import metering

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 1, 20, 15, 0, tzinfo=dt.UTC)
ROWS = metering.quarters(31)


def take(site: Site, file: object = None, **said: object) -> tuple[MeterData, bool]:
    return meter.take_in(
        site=site, file=file or metering.green_button(ROWS), name="january 2025.xml",
        by=a_recorder(), now=NOW, **said,
    )  # type: ignore[arg-type]  # fmt: skip


def test_the_readings_are_kept_with_what_was_found():
    data, is_new = take(SiteFactory())
    data.refresh_from_db()
    highest = max(row[2] for row in ROWS) * 4.0
    assert is_new
    assert (data.count, data.days, data.interval_s, data.power_unit) == (31 * 96, 31, 900, "W")
    assert (data.peak, data.energy) == (highest, float(sum(row[2] for row in ROWS)))
    assert data.first_at.timestamp() == metering.NEW_YEAR_2025
    assert [round(one.power / 4) for one in data.series] == [row[2] for row in ROWS]
    assert [one["code"] for one in data.findings] == ["short"]
    assert not data.bars


def test_the_same_file_again_is_the_same_record_at_each_site():
    site, other = SiteFactory(), SiteFactory()
    first, _ = take(site)
    again, is_new = take(site)
    assert (again.pk, is_new) == (first.pk, False)
    assert take(other)[1]
    assert MeterData.objects.count() == 2


def test_a_file_read_in_a_stated_unit_is_not_silently_another():
    table = b"timestamp,usage\n2025-01-01 00:00,1\n2025-01-01 00:15,1\n"
    site = SiteFactory()
    with pytest.raises(Unreadable, match="does not say the unit"):
        take(site, metering.opened(table))
    data, _ = take(site, metering.opened(table), unit="Wh")
    assert data.stated_unit == "Wh"
    with pytest.raises(Refused, match="read as Wh"):
        take(site, metering.opened(table), unit="kWh")
    meter.remove(data=data, by=a_recorder())
    assert take(site, metering.opened(table), unit="kWh")[0].energy == 2000


def test_nothing_is_stored_of_a_file_that_cannot_be_read(settings):
    site = SiteFactory()
    whole = metering.green_button(ROWS).read()
    for damaged in (whole[:50_000], b"", b"PK\x03\x04", whole.replace(b"naesb", b"nearby")):
        with pytest.raises(Unreadable):
            take(site, metering.opened(damaged))
    settings.METER_MAX_BYTES = 10_000
    with pytest.raises(Invalid, match="larger than 0 MB"):
        take(site)
    assert not MeterData.objects.exists()


def test_readings_are_never_changed_only_removed():
    data, _ = take(SiteFactory())
    with pytest.raises(DatabaseError, match="Cannot update"), transaction.atomic():
        MeterData.objects.filter(pk=data.pk).update(peak=1.0)
    meter.remove(data=data, by=a_recorder())
    assert not MeterData.objects.exists()
