"""What the database itself promises about loads and calculations, and how editions are found."""

from __future__ import annotations

import datetime as dt

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from contractor.errors import Refused
from panels.models import Calculation, Load
from panels.rules.errors import UnknownEdition
from panels.services import adoptions, calculations, load, offers
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_recorder
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 3, 30, tzinfo=dt.UTC)  # still the 24th in Harrow Mills


def a_calculation(site=None):
    site = site or SiteFactory()
    adopted(site)
    facts = {"floor_area_ft2": 1500, "small_appliance_circuits": 2, "laundry_circuits": 1}
    load.record_home(site=site, by=a_recorder(), **facts)
    load.add_load(site=site, by=a_recorder(), kind="range", nameplate=12, unit="kW")
    return calculations.calculate(site=site, method="standard", by=a_recorder(), now=NOW)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE panels_calculation SET total_va = 1 WHERE id = %s",
        "UPDATE panels_calculation SET result = '{}' WHERE id = %s",
        "DELETE FROM panels_calculation WHERE id = %s",
    ],
)
def test_the_database_refuses_to_alter_a_calculation(statement):
    made = a_calculation()
    with (
        pytest.raises(DatabaseError, match="Cannot update or delete"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement, [made.pk])
    assert Calculation.objects.get(pk=made.pk).total_va == 13_100  # 5100 + 8000, as 1.4 #24


def test_a_calculation_keeps_its_inputs_day_and_software():
    made = a_calculation()
    assert made.on == dt.date(2026, 11, 24)
    assert made.inputs["loads"][0]["nameplate"] == {"value": 12, "unit": "kW"}
    assert made.software == calculations.software()
    again = calculations.result_of(Calculation.objects.get(pk=made.pk))
    assert again.line("load").shown == "13,100 VA"


@pytest.mark.parametrize(
    "row",
    [
        {"kind": "range", "nameplate": None},
        {"kind": "range", "nameplate": 0},
        {"kind": "range", "nameplate": 1, "count": 0},
        {"kind": "range", "nameplate": 1, "power_factor": 1.1},
    ],
)
def test_the_database_refuses_a_load_that_cannot_be(row):
    site = SiteFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        Load.objects.create(site=site, name="Range", **row)


def test_a_vehicle_may_have_an_unknown_nameplate():
    row = load.add_load(site=SiteFactory(), by=a_recorder(), kind="vehicle", name="Car")
    assert row.nameplate is None


def test_the_nearest_adoption_counts_authority_then_city_then_state():
    site, by = SiteFactory(), a_recorder()
    said = {"since": dt.date(2020, 1, 1), "source": "invented", "by": by}
    on = dt.date(2026, 11, 25)
    for place, edition in (("OH", "2017"), ("Harrow Mills, OH", "2020")):
        adoptions.record_adoption(authority=None, place=place, edition=edition, **said)
        assert adoptions.basis_for(site=site, on=on).edition.key == edition
    adoptions.record_adoption(authority=site.authority, place="", edition="2023", **said)
    basis = adoptions.basis_for(site=site, on=on)
    assert basis.edition.key == "2023"
    assert "in force since 2020-01-01 (invented)" in basis.stated
    site.authority = None
    assert adoptions.basis_for(site=site, on=on).edition.key == "2020"


def test_the_day_before_the_first_adoption_is_not_guessed():
    site = SiteFactory()
    adopted(site, since=dt.date(2024, 4, 15))
    with pytest.raises(UnknownEdition):
        adoptions.basis_for(site=site, on=dt.date(2024, 4, 14))
    assert adoptions.basis_for(site=site, on=dt.date(2024, 4, 15)).edition.key == "2017"


def test_the_adoption_told_is_the_one_in_force_that_day():
    site = SiteFactory()
    adopted(site, "2017", dt.date(2019, 7, 1))
    adopted(site, "2023", dt.date(2024, 4, 15))
    basis = adoptions.basis_for(site=site, on=dt.date(2024, 4, 14))
    assert basis.edition.key == "2017"
    assert "in force since 2019-07-01" in basis.stated


def test_another_edition_needs_someone_who_stated_it():
    site = SiteFactory()
    with pytest.raises(Refused, match="Say who stated"):
        adoptions.basis_for(site=site, on=dt.date(2026, 1, 1), edition="2023", stated_by=" ")


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Range", "range"),
        ("Range hood", None),
        ("Kitchen range receptacle", None),
        ("Heat pump, outdoor unit", "heat_pump"),
        ("Sump pump", "motor"),
        ("Spare bedroom", None),
        ("EV", None),
        ("Vehicle charger", "vehicle"),
        ("Dryer", "dryer"),
        ("Bedroom", None),
    ],
)
def test_a_name_tells_the_kind_or_nothing(name, kind):
    found = offers.kind_of(name)
    assert (found.value if found else None) == kind
