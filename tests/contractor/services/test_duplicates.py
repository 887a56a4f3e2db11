"""Do two entries become one only by a person's hand, and without losing anything?"""

from __future__ import annotations

import datetime as dt

import pytest
from django.apps import apps

from contractor.errors import Refused, Stale
from contractor.models import Customer, Merge, NotTheSame, Person, Site
from contractor.queries import duplicates
from contractor.queries.duplicates import likely_pairs, likely_twins
from contractor.queries.history import history
from contractor.services.duplicates import merge_customers, tell_apart
from tests.factories import jobs
from tests.factories.contractor import CoordinatorFactory, CustomerFactory, SiteFactory

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


@pytest.fixture
def by() -> Person:
    return CoordinatorFactory(name="Dana Whitlock")


@pytest.fixture
def pair() -> tuple[Customer, Customer]:
    keep = CustomerFactory(name="Avery Quill", phone="+16145550142", email="")
    drop = CustomerFactory(name="A. Quill", phone="+16145550142", email="avery@mail.example")
    return keep, drop


def test_everything_moves_and_what_was_chosen_is_taken(by: Person, pair) -> None:
    keep, drop = pair
    booked = jobs.job(at_site=SiteFactory(customer=drop))
    merged = merge_customers(keep=keep, drop=drop, take=["email", "list_key"], by=by, now=NOW)
    assert (merged.name, merged.email) == ("Avery Quill", "avery@mail.example")
    assert not Customer.objects.filter(pk=drop.pk).exists()
    booked.site.refresh_from_db()
    assert booked.site.customer == keep


def test_nothing_in_any_room_still_points_at_the_entry_that_is_gone(by: Person, pair) -> None:
    keep, drop = pair
    SiteFactory(customer=drop)
    tell_apart(one=drop, other=CustomerFactory(), by=by)
    merge_customers(keep=keep, drop=drop, take=[], by=by, now=NOW)
    pointing = [
        (model, column)
        for model in apps.get_models()
        if not hasattr(model, "pgh_tracked_model")
        for column in model._meta.concrete_fields
        if column.remote_field and column.remote_field.model is Customer
    ]
    assert (Site, Site._meta.get_field("customer")) in pointing
    for model, column in pointing:
        assert not model._base_manager.filter(**{column.attname: drop.pk}).exists(), model


def test_the_story_of_both_goes_on(by: Person, pair) -> None:
    keep, drop = pair
    merge_customers(keep=keep, drop=drop, take=["email"], by=by, now=NOW)
    told = [(entry.verb, entry.what) for entry in history("customer", keep)]
    assert ("removed", "customer A. Quill") in told
    assert ("added", "customer A. Quill") in told
    merge = Merge.objects.get()
    assert (merge.dropped["name"], merge.by, merge.at) == ("A. Quill", by, NOW)


def test_a_merge_on_old_revisions_is_refused_and_moves_nothing(by: Person, pair) -> None:
    keep, drop = pair
    site = SiteFactory(customer=drop)
    Customer.objects.filter(pk=drop.pk).update(notes="changed meanwhile")
    with pytest.raises(Stale):
        merge_customers(keep=keep, drop=drop, take=[], by=by, now=NOW, revs=(1, 1))
    site.refresh_from_db()
    assert site.customer == drop


def test_a_second_merge_of_the_same_pair_is_refused(by: Person, pair) -> None:
    keep, drop = pair
    merge_customers(keep=keep, drop=drop, take=[], by=by, now=NOW)
    for gone in (drop, keep):
        with pytest.raises(Refused):
            merge_customers(keep=keep, drop=gone, take=[], by=by, now=NOW)


def test_a_pair_shows_until_someone_tells_them_apart(by: Person, pair) -> None:
    keep, drop = pair
    assert {keep, drop} == {likely_pairs()[0].one, likely_pairs()[0].other}
    assert [found.other for found in likely_twins(keep)] == [drop]
    tell_apart(one=drop, other=keep, by=by)
    tell_apart(one=keep, other=drop, by=by)
    assert NotTheSame.objects.count() == 1
    assert likely_pairs() == []
    assert likely_twins(keep) == likely_twins(drop) == []


def test_pairs_are_found_by_phone_mail_and_address(by: Person) -> None:
    site = SiteFactory(customer__name="Wren Abbot", street="5 Lock Street")
    CustomerFactory(name="Wren Abbott", street="5 lock street", zip=site.zip, city="x", state="OH")
    CustomerFactory(name="Sal One", email="sal@mail.example")
    CustomerFactory(name="Sal Two", email="SAL@mail.example")
    found = {tuple(sorted((pair.one.name, pair.other.name))) for pair in likely_pairs()}
    assert found == {("Wren Abbot", "Wren Abbott"), ("Sal One", "Sal Two")}


def test_a_house_of_many_flats_hides_no_pair(by: Person, pair, monkeypatch) -> None:
    monkeypatch.setattr(duplicates, "MOST_PAIRS", 1)
    names = ("Ada Birch", "Rhys Okafor", "Wren Lum", "Juno Pike", "Omar Quist")
    for name in names:
        CustomerFactory(name=name, street="1 Mill Race", zip="43099", phone="", email="")
    assert [{found.one, found.other} for found in likely_pairs()] == [set(pair)]


def test_many_of_one_name_hide_nobody_with_the_same_phone(by: Person, monkeypatch) -> None:
    monkeypatch.setattr(duplicates, "NAMESAKES", 3)
    monkeypatch.setattr(duplicates, "MOST_NEAR", 5)
    for number in range(20):
        CustomerFactory(name="Ada Birch", phone="", email="", list_key=f"a{number}")
    one = CustomerFactory(name="Ada Birch", phone="+16145550142")
    other = CustomerFactory(name="Birch Rentals", phone="+16145550142")
    assert [found.other for found in likely_twins(one)] == [other]


def test_pairs_cost_the_same_however_many(by: Person, django_assert_num_queries) -> None:
    for _each in range(10):
        CustomerFactory(phone="+16145550142")
    with django_assert_num_queries(3):
        assert len(likely_pairs()) == 45
