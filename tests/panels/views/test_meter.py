"""The meter's page, by hand: a file taken in, looked at, worked out, kept and removed."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from panels.models import Calculation, MeterData
from panels.services import load
from tests.factories.panels import a_panel, a_recorder
from tests.panels import metering
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
ROWS = [(metering.NEW_YEAR_2025 + n * 3600, 3600, 500 + n % 700) for n in range(8760)]
YEAR = metering.green_button(ROWS).read()
SAID = {"power_factor": "0.9", "renewable": "no", "system": "1ph-240", "service_a": "100"}


def take(browser, site, data=YEAR, **said):
    file = SimpleUploadedFile("year.xml", data, content_type="text/xml")
    return browser.post(reverse("meter", args=[site.pk]), {"file": file, **said})


@pytest.fixture
def data(browser, site) -> MeterData:
    adopted(site)
    assert take(browser, site).status_code == 302
    return MeterData.objects.get()


def test_a_file_is_taken_in_and_its_year_is_shown(browser, site, data):
    page = browser.get(reverse("meter-file", args=[data.pk]))
    said = page.content.decode()
    assert page.status_code == 200
    assert "1.20 kW" in said
    assert "The demand over 15 minutes is higher" in said
    assert said.count('class="heat-mark"') == 2
    assert said.count('<th scope="row">') == 12
    assert 'd="M0 ' in said
    assert "year.xml" in browser.get(reverse("meter", args=[site.pk])).content.decode()


def test_the_site_and_its_load_lead_here(browser, site):
    a_panel(site)
    for name in ("site", "load"):
        page = browser.get(reverse(name, args=[site.pk]))
        assert reverse("meter", args=[site.pk]) in page.content.decode()


def test_the_same_file_again_says_so(browser, site, data):
    page = browser.post(
        reverse("meter", args=[site.pk]),
        {"file": SimpleUploadedFile("again.xml", YEAR)},
        follow=True,
    )
    assert "is here already" in page.content.decode()
    assert MeterData.objects.count() == 1


@pytest.mark.parametrize(
    ("file", "words"),
    [
        (b"", "The file is empty"),
        (b"PK\x03\x04", "ZIP archive"),
        (YEAR[:40_000], "download it again"),
        (b"start,usage\n2025-01-01,1\n2025-01-02,1\n", "choose the unit"),
    ],
)
def test_a_file_that_cannot_be_used_is_answered_in_words(browser, site, file, words):
    answer = take(browser, site, file)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not MeterData.objects.exists()


def test_what_fits_is_worked_out_without_keeping_then_kept(browser, site, data):
    car = load.add_load(
        site=site, by=a_recorder(), kind="vehicle", name="Car", nameplate=5, unit="kVA", new=True
    )
    address = reverse("meter-file", args=[data.pk])
    said = SAID | {"new_loads": [str(car.pk)]}
    shown = browser.post(address, said | {"do": "work"})
    assert shown.status_code == 200
    assert "6,665.28 VA" in shown.content.decode()  # 1199 W / 0.9 × 1.25 + 5000
    assert not Calculation.objects.exists()
    kept = browser.post(address, said | {"do": "keep"}, follow=True)
    assert Calculation.objects.get().total_va == pytest.approx(6665.278, abs=0.001)
    assert "Existing load by its meter" in kept.content.decode()
    paper = browser.get(reverse("worksheet", args=[Calculation.objects.get().pk]))
    assert paper.content.startswith(b"%PDF")


def test_nothing_is_supposed_that_was_not_said(browser, site, data):
    answer = browser.post(reverse("meter-file", args=[data.pk]), {"do": "keep"})
    said = answer.content.decode()
    assert answer.status_code == 422
    for name in ("power_factor", "renewable", "service_a", "system"):
        assert f'id="id_{name}_error' in said or f'"#id_{name}' in said
    assert not Calculation.objects.exists()


def test_a_source_behind_the_meter_closes_the_method(browser, data):
    answer = browser.post(reverse("meter-file", args=[data.pk]), SAID | {"renewable": "yes"})
    assert answer.status_code == 422
    assert "source of its own" in answer.content.decode()


def test_readings_that_close_the_method_offer_the_nameplates(browser, site):
    days = [(metering.NEW_YEAR_2025 + n * 86_400, 86_400, 9000) for n in range(365)]
    take(browser, site, metering.green_button(days).read())
    said = browser.get(reverse("meter-file", args=[MeterData.objects.get().pk])).content.decode()
    assert "Closes the metered method" in said
    assert 'name="power_factor"' not in said
    assert reverse("load", args=[site.pk]) in said


def test_readings_are_removed_after_a_question(browser, site, data):
    address = reverse("meter-remove", args=[data.pk])
    assert "Remove these readings?" in browser.get(address).content.decode()
    assert MeterData.objects.exists()
    assert browser.post(address).url == reverse("meter", args=[site.pk])
    assert not MeterData.objects.exists()
