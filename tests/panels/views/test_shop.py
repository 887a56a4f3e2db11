"""A small shop's facts on the pages: recorded, calculated, kept; never beside a home's."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from contractor.models import Site
from panels.models import Calculation, Home, Load, Shop
from tests.panels import reading
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
STORE = {
    "occupancy": "store", "floor_area_ft2": 3000, "lighting_va": 8500, "receptacles": 80,
    "signs": 1, "show_window_ft": 30, "track_ft": "", "multioutlet_ft": "",
    "multioutlet_busy_ft": "", "system": "1ph-240", "service_a": 200,
}  # fmt: skip
HOME = {"floor_area_ft2": 1500, "small_appliance_circuits": 2, "laundry_circuits": 1,
        "system": "1ph-240"}  # fmt: skip


def text(answer) -> str:
    return answer.content.decode()


def test_at_the_start_a_site_is_described_as_a_home_or_as_a_shop(browser: Client, site: Site):
    shown = text(browser.get(reverse("load", args=[site.pk])))
    assert reverse("load-home", args=[site.pk]) in shown
    assert reverse("load-shop", args=[site.pk]) in shown
    assert "The premises are not described yet" in shown


def test_a_shop_is_recorded_calculated_kept_and_printed(browser: Client, site: Site):
    """28 400 VA, and 32 450 VA with continuous loads at 125 %: worked by hand in
    tests/panels/rules/shop/test_method.py."""
    adopted(site)
    answer = browser.post(reverse("load-shop", args=[site.pk]), STORE)
    assert answer.status_code == 302, text(answer)
    assert Shop.objects.get().track_ft == 0
    shown = text(browser.get(reverse("load", args=[site.pk])))
    for said in ("28,400 VA", "32,450 VA", "Small shop, general rules", "from memory; confirm"):
        assert said in shown
    kept = browser.post(reverse("load", args=[site.pk]), {"method": "shop"})
    assert kept.status_code == 302, text(kept)
    made = Calculation.objects.get()
    assert (made.method, made.total_va) == ("shop", 28_400)
    paper = reading.text(browser.get(reverse("worksheet", args=[made.pk])).content)
    for said in ("32,450 VA", "3,000 ft²", "store", "30 ft", "120/240 V, single phase"):
        assert said in paper


def test_a_shop_has_kitchens_and_three_phases_and_no_household_range(browser: Client, site: Site):
    browser.post(reverse("load-shop", args=[site.pk]), {**STORE, "system": "3ph-208"})
    form = text(browser.get(reverse("load-add", args=[site.pk])))
    assert "commercial kitchen equipment" in form
    assert "clothes dryer" not in form
    said = {"kind": "kitchen", "name": "Fryer", "nameplate": 30, "unit": "A", "volts": 208}
    browser.post(reverse("load-add", args=[site.pk]), {**said, "phases": 3})
    assert Load.objects.get().phases == 3
    refused = browser.post(reverse("load-add", args=[site.pk]), {**said, "kind": "range"})
    assert refused.status_code == 422


def test_a_home_takes_no_kitchen_equipment_and_asks_for_no_phases(browser: Client, site: Site):
    browser.post(reverse("load-home", args=[site.pk]), HOME)
    form = text(browser.get(reverse("load-add", args=[site.pk])))
    assert "commercial kitchen equipment" not in form
    assert 'name="phases"' not in form


def test_a_home_becomes_a_shop_only_when_that_is_said(browser: Client, site: Site):
    browser.post(reverse("load-home", args=[site.pk]), HOME)
    shown = text(browser.get(reverse("load-shop", args=[site.pk])))
    assert "on record as a home" in shown
    assert 'name="instead"' in shown
    refused = browser.post(reverse("load-shop", args=[site.pk]), STORE)
    assert refused.status_code == 422
    assert Home.objects.exists()
    browser.post(reverse("load-shop", args=[site.pk]), {**STORE, "instead": "1"})
    assert Shop.objects.exists()
    assert not Home.objects.exists()


def test_a_shop_becomes_a_home_only_when_that_is_said(browser: Client, site: Site):
    browser.post(reverse("load-shop", args=[site.pk]), STORE)
    assert browser.post(reverse("load-home", args=[site.pk]), HOME).status_code == 422
    browser.post(reverse("load-home", args=[site.pk]), {**HOME, "instead": "1"})
    assert Home.objects.exists()
    assert not Shop.objects.exists()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"floor_area_ft2": 0}, "floor area"),
        ({"occupancy": ""}, "used as"),
        ({"receptacles": -3}, "receptacles"),
        ({"show_window_ft": -1}, "show windows"),
    ],
)
def test_what_cannot_be_is_told_at_its_field(browser: Client, site: Site, change, says):
    answer = browser.post(reverse("load-shop", args=[site.pk]), {**STORE, **change})
    assert answer.status_code == 422
    assert says in text(answer).lower()
    assert not Shop.objects.exists()


def test_an_old_form_does_not_overwrite_what_another_saved(browser: Client, site: Site):
    browser.post(reverse("load-shop", args=[site.pk]), STORE)
    rev = Shop.objects.get().rev
    browser.post(reverse("load-shop", args=[site.pk]), {**STORE, "rev": rev, "receptacles": 60})
    stale = browser.post(reverse("load-shop", args=[site.pk]), {**STORE, "rev": rev, "signs": 2})
    assert stale.status_code == 422
    assert Shop.objects.get().receptacles == 60
