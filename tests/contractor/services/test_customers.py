"""Are customers and sites kept in normal form, and removed only when nothing hangs on them?"""

from __future__ import annotations

import datetime as dt

import pytest

from contractor.errors import Invalid, Refused, Stale
from contractor.models import Customer, Person, Site
from contractor.services import customers, sites
from tests.factories.contractor import (
    CoordinatorFactory,
    CustomerFactory,
    FirmFactory,
    SiteFactory,
)

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
ADDRESS = {"street": "118 Wheelwright Lane", "city": "Harrow Mills", "state": "OH", "zip": "43099"}


@pytest.fixture
def by() -> Person:
    return CoordinatorFactory()


def test_a_customer_is_kept_in_normal_form(by: Person) -> None:
    typed = {"name": "Avery", "phone": "(614) 555-0142", "email": "Avery@MAIL.example", **ADDRESS}
    customer = customers.add_customer(values={**typed, "state": "Ohio"}, by=by, now=NOW)
    customer.refresh_from_db()
    assert (customer.phone, customer.email) == ("+16145550142", "Avery@mail.example")
    assert (customer.state, customer.created_at) == ("OH", NOW)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"name": ""}, "name"),
        ({"name": "A", "phone": "555-0142"}, "phone"),
        ({"name": "A", "phone": "hello"}, "phone"),
        ({"name": "A", "email": "avery@"}, "email"),
        ({"name": "A", **ADDRESS, "zip": "90210"}, "zip"),
        ({"name": "A", **ADDRESS, "state": "ZZ"}, "state"),
        ({"name": "A", **ADDRESS, "city": ""}, "city"),
    ],
)
def test_what_cannot_be_used_is_told_at_its_field(
    by: Person, typed: dict[str, str], field: str
) -> None:
    with pytest.raises(Invalid) as refused:
        customers.add_customer(values=typed, by=by, now=NOW)
    assert field in refused.value.fields
    assert not Customer.objects.exists()


def test_two_customers_without_a_number_of_the_list_are_not_the_same(by: Person) -> None:
    for _each in range(2):
        customers.add_customer(values={"name": "Avery", "list_key": ""}, by=by, now=NOW)
    assert Customer.objects.filter(list_key=None).count() == 2


def test_a_change_on_an_old_revision_is_refused(by: Person) -> None:
    customer = CustomerFactory()
    changed = customers.change_customer(customer=customer, values={"name": "B"}, by=by, rev=1)
    assert changed.rev == 2
    with pytest.raises(Stale) as refused:
        customers.change_customer(customer=customer, values={"name": "C"}, by=by, rev=1)
    assert refused.value.current_rev == 2


def test_a_change_of_one_part_of_the_address_is_checked_with_the_rest(by: Person) -> None:
    customer = CustomerFactory(**ADDRESS)
    with pytest.raises(Invalid):
        customers.change_customer(customer=customer, values={"zip": "90210"}, by=by, rev=1)


def test_a_customer_is_removed_when_nothing_hangs_on_it(by: Person) -> None:
    site = SiteFactory()
    with pytest.raises(Refused, match="sites"):
        customers.remove_customer(customer=site.customer, by=by, rev=None)
    sites.remove_site(site=site, by=by, rev=1)
    customers.remove_customer(customer=site.customer, by=by, rev=None)
    assert not Customer.objects.exists()


def test_a_site_in_an_unknown_zip_code_keeps_the_firms_time_zone(by: Person) -> None:
    FirmFactory(time_zone="America/Chicago")
    site = sites.add_site(customer=CustomerFactory(), values=ADDRESS, by=by, now=NOW)
    assert (site.latitude, site.placed) == (None, Site.Placed.UNKNOWN)
    assert site.time_zone == "America/Chicago"


def test_a_site_learns_its_place_once_its_zip_code_is_known(by: Person) -> None:
    site = sites.add_site(customer=CustomerFactory(), values=ADDRESS, by=by, now=NOW)
    site = sites.change_site(site=site, values={"zip": "43215"}, by=by, rev=1)
    assert (site.latitude, site.placed) == (39.9671, Site.Placed.BY_ZIP)
    cleared = sites.change_site(site=site, values={"zip": "43099"}, by=by, rev=2)
    assert (cleared.latitude, cleared.placed) == (None, Site.Placed.UNKNOWN)


@pytest.mark.parametrize(
    "typed", [{"latitude": 91.0, "longitude": 0.0}, {"time_zone": "Mars/Olympus"}, {"state": ""}]
)
def test_a_site_nowhere_on_earth_is_refused(by: Person, typed: dict[str, object]) -> None:
    with pytest.raises(Invalid):
        sites.add_site(customer=CustomerFactory(), values={**ADDRESS, **typed}, by=by, now=NOW)
