"""Which homes does an adoption govern, and on which day is that asked?"""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from contractor.models import Site
from panels.models import Adoption
from panels.queries.governed import day_of, governed, last_kept, touched
from panels.rules.errors import UnknownEdition
from panels.services.adoptions import basis_for
from tests.factories.contractor import AuthorityFactory, SiteFactory
from tests.panels.again import NOW, TODAY, a_home, adopt, keep

DAY = dt.timedelta(days=1)


class Places(TestCase):
    """What the query says of all sites is what each site is told by itself."""

    @settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(rows=st.sets(st.sampled_from(["authority", "other", "town", "elsewhere", "state"])))
    def test_the_nearest_place_with_an_adoption_governs(self, rows: set[str]) -> None:
        authority, other = AuthorityFactory(name="North Board"), AuthorityFactory(name="East Board")
        for near in (authority, other, None):
            for city, state in (("Harrow Mills", "OH"), ("Tansy Ford", "OH"), ("Alder", "KY")):
                SiteFactory(authority=near, city=city, state=state)
        where = {
            "authority": authority, "other": other, "town": "Harrow Mills, OH",
            "elsewhere": "Tansy Ford, OH", "state": "OH",
        }  # fmt: skip
        made = [adopt(where[name], "2017") for name in sorted(rows)]
        found = {row.pk: set(governed(row).values_list("pk", flat=True)) for row in made}
        for site in Site.objects.all():
            governing = [row for row in made if site.pk in found[row.pk]]
            assert len(governing) == (1 if told(site) else 0), (site, rows)
            assert not governing or f"Adopted by {governing[0].where}," in told(site)


def told(site: Site) -> str:
    try:
        return basis_for(site=site, on=TODAY).stated
    except UnknownEdition:
        return ""


@pytest.mark.django_db
def test_it_counts_today_or_on_the_day_nearest_to_it() -> None:
    now = adopt("OH", "2017", since=TODAY - 100 * DAY)
    assert day_of(now, today=TODAY) == TODAY
    coming = adopt("OH", "2023", since=TODAY + 30 * DAY)
    assert day_of(coming, today=TODAY) == TODAY + 30 * DAY
    assert day_of(now, today=TODAY) == TODAY
    past = adopt("OH", "2020", since=TODAY - 200 * DAY)
    assert day_of(past, today=TODAY) == TODAY - 101 * DAY
    assert day_of(now, today=TODAY + 90 * DAY) == TODAY + 29 * DAY


@pytest.mark.django_db
def test_only_homes_that_were_calculated_are_touched_and_only_their_last_calculations() -> None:
    adoption = adopt("OH", "2017")
    home = a_home()
    keep(home, now=NOW - DAY)
    last = keep(home, now=NOW)
    other = keep(home, method="standard", now=NOW - DAY)
    a_home()  # never calculated
    assert set(last_kept(governed(adoption))) == {last, other}
    assert touched(adoption) == (1, [("2017", 2)])
    assert touched(Adoption(place="KY")) == (0, [])
