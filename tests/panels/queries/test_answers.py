"""The newest kept answer of each method is found, in one query."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.queries.answers import last_kept
from panels.services import calculations
from panels.views.worked_out import worked_out
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_recorder

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
CONDUCTOR = {"device": "40 A", "metal": "cu"}
DWELLING = {"floor_area": "1500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1}


def keep(site, method, inputs, *, days=0):
    return calculations.keep(
        site=site, method=method, inputs=inputs, by=a_recorder(),
        now=NOW + dt.timedelta(days=days), edition="2017", stated_by="the inspector",
    )  # fmt: skip


def test_the_newest_of_each_method_is_found_in_one_query(django_assert_num_queries) -> None:
    site = SiteFactory()
    keep(site, "conductor", CONDUCTOR)
    later = keep(site, "conductor", CONDUCTOR, days=2)
    load = keep(site, "standard", DWELLING, days=1)
    keep(SiteFactory(), "standard", DWELLING, days=3)
    with django_assert_num_queries(1):
        assert last_kept(site) == {"conductor": later, "standard": load}


def test_the_list_shows_the_newest_load_by_whichever_method() -> None:
    site = SiteFactory()
    keep(site, "standard", DWELLING)
    newest = keep(site, "optional", DWELLING | {"service": {"rating": "100 A"}}, days=1)
    lines = list(worked_out(site, has_sources=False))
    assert lines[0].kept == newest
    assert [line.kept for line in lines[1:]] == [None] * (len(lines) - 1)


def test_an_outage_is_answered_only_where_something_can_feed_the_panels() -> None:
    site = SiteFactory()
    without = {line.url for line in worked_out(site, has_sources=False)}
    with_ = {line.url for line in worked_out(site, has_sources=True)}
    assert {url.split("/")[-2] for url in with_ - without} == {"backup", "outage"}
