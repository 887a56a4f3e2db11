"""Readings typed in the field."""

from __future__ import annotations

import pytest
from django.urls import reverse

from tests.factories.panels import a_circuit, a_panel

pytestmark = pytest.mark.django_db


def text(answer):
    return " ".join(answer.content.decode().split())


@pytest.fixture
def url(panel):
    return reverse("readings", args=[panel.pk])


def test_all_voltages_go_in_at_once(browser, url, panel, technician):
    fill = {"kind": "voltage", "voltage-A-N": "121.5", "voltage-B-N": "120", "voltage-A-B": "241.5"}
    answer = browser.post(url, fill | {"voltage-instrument": "Meter 3"}, follow=True)
    assert "Recorded: 3" in text(answer)
    taken = panel.readings.order_by("between")
    assert [(one.between, one.value) for one in taken] == [
        ("A-B", 241.5), ("A-N", 121.5), ("B-N", 120.0),
    ]  # fmt: skip
    assert {one.taken_by for one in taken} == {technician}
    assert "121.5 V is within 114 to 126 V" in text(answer)
    assert "COMAR 20.50.07.02" in text(answer)


@pytest.mark.parametrize(
    ("fill", "words"),
    [
        ({"kind": "voltage"}, "Type at least one voltage"),
        ({"kind": "voltage", "voltage-A-N": "12150", "voltage-B-N": "120"}, "cannot be right"),
        ({"kind": "voltage", "voltage-A-N": "high"}, "Enter a number"),
        ({"kind": "insulation", "insulation-between": "A-G", "insulation-value": "5"}, "required"),
        ({"kind": "torque", "torque-value": "50"}, "required"),
    ],
)
def test_what_cannot_be_is_refused_and_none_of_it_kept(browser, url, panel, fill, words):
    answer = browser.post(url, fill)
    assert answer.status_code == 422
    assert words in text(answer)
    assert not panel.readings.exists()


def test_insulation_and_torque_with_what_they_need(browser, url, panel):
    circuit = a_circuit(panel, 1, name="Well pump")
    fill = {"between": "A-G", "value": "500", "test_v": "500", "circuit": circuit.pk}
    browser.post(url, {"kind": "insulation", **{f"insulation-{k}": v for k, v in fill.items()}})
    fill = {"between": "Main lug A", "value": "250", "marked_value": "250"}
    browser.post(url, {"kind": "torque", **{f"torque-{k}": v for k, v in fill.items()}})
    shown = text(browser.get(url))
    for words in ("A-G 500 MΩ", "Well pump", "at 500 V DC", "Main lug A 250 lb-in", "As marked"):
        assert words in shown


def test_a_reading_is_struck_out_after_asking(browser, url, panel):
    browser.post(url, {"kind": "voltage", "voltage-A-N": "121"})
    reading = panel.readings.get()
    strike = reverse("reading-remove", args=[reading.pk])
    assert strike in text(browser.get(url))
    assert "Strike out this reading?" in text(browser.get(strike))
    browser.post(strike)
    assert not panel.readings.exists()


def test_a_kind_that_is_none_is_not_found(browser, url):
    assert browser.post(url, {"kind": "colour"}).status_code == 404


def test_other_criteria_stand_beside_the_first(browser, url):
    browser.post(url, {"kind": "voltage", "voltage-A-N": "127"})
    shown = text(browser.get(url))
    assert "outside 114 to 126 V" in shown
    assert "5 other criteria" in shown
    assert "Illinois, service: within." in shown
    assert "from memory; confirm" in shown


def test_three_phases_measured_at_one_visit_show_their_unbalance(browser, site):
    shop = a_panel(site, name="Shop", system="3ph-208", spaces=18)
    url = reverse("readings", args=[shop.pk])
    fill = {"voltage-A-B": "208", "voltage-A-C": "209", "voltage-B-C": "190"}
    assert "Voltage unbalance" not in text(browser.get(url))
    shown = text(browser.post(url, {"kind": "voltage", **fill}, follow=True))
    assert "Voltage unbalance" in shown
    assert "6.1 % is above 3 %" in shown


def test_two_visits_are_not_mixed(browser, site):
    shop = a_panel(site, name="Shop", system="3ph-208", spaces=18)
    url = reverse("readings", args=[shop.pk])
    browser.post(url, {"kind": "voltage", "voltage-A-B": "208", "voltage-A-C": "209"})
    browser.post(url, {"kind": "voltage", "voltage-B-C": "190"})
    assert "Voltage unbalance" not in text(browser.get(url))


def test_over_the_api_every_criterion_is_told(browser, phone, url, panel):
    browser.post(url, {"kind": "voltage", "voltage-A-N": "127"})
    (told,) = phone.get(reverse("api-readings", args=[panel.pk])).json()["results"]
    verdicts = {one["criterion"]: one["finding"] for one in told["criteria"]}
    assert (verdicts["comar"], verdicts["illinois"]) == ("outside", "within")
    assert told["finding"] == "outside"
