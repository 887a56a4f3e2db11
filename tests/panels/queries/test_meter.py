"""The typical year of a site comes from its best file."""

from __future__ import annotations

import datetime as dt

import pytest

from contractor.models import Site
from panels.queries import meter as queries
from panels.services import meter
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_recorder
from tests.panels import metering

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 1, 20, 15, 0, tzinfo=dt.UTC)


def take(site: Site, rows: list[metering.Row]) -> None:
    meter.take_in(
        site=site, file=metering.green_button(rows), name="x.xml", by=a_recorder(), now=NOW
    )


def test_without_a_file_there_is_none_and_the_finest_counts():
    site = SiteFactory()
    assert queries.typical_year(site) is None
    take(site, [(metering.NEW_YEAR_2025 + n * 86_400, 86_400, 2400) for n in range(365)])
    assert queries.typical_year(site) is None
    take(site, [(metering.NEW_YEAR_2025 + n * 3600, 3600, 100) for n in range(8760)])
    assert set(queries.typical_year(site) or []) == {100.0}
    take(site, [(metering.NEW_YEAR_2025 + n * 900, 900, 50) for n in range(40 * 96)])
    found = queries.profile_of(site)
    assert found is not None
    assert (len(found.powers), set(found.powers), found.filled) == (35_040, {200.0}, 325 * 96)


def test_the_list_leaves_the_readings_where_they_are(django_assert_num_queries):
    site = SiteFactory()
    take(site, metering.quarters(2))
    with django_assert_num_queries(1):
        (found,) = queries.files_of(site)
        assert found.taken_by.name
        assert found.peak_shown.endswith("W")
