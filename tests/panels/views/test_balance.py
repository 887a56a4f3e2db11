"""Leg balance on a page and over the API, and the moves written down and taken back."""

from __future__ import annotations

import pytest
from django.urls import reverse

from panels.models import Calculation
from panels.services import load, sources
from tests.factories.contractor import TechnicianFactory
from tests.factories.panels import a_circuit, a_recorder

pytestmark = pytest.mark.django_db


def text(answer):
    return " ".join(answer.content.decode().split())


def with_load(circuit, va):
    load.add_load(
        site=circuit.panel.site, circuit=circuit, kind="appliance", name=circuit.name,
        nameplate=va, unit="VA", volts=120, by=a_recorder(),
    )  # fmt: skip


@pytest.fixture
def lopsided(panel):
    """Two loads on leg A, nothing on leg B; a spare and a circuit without a load beside them."""
    toaster, kettle = a_circuit(panel, 1, name="Toaster"), a_circuit(panel, 2, name="Kettle")
    with_load(toaster, 1500)
    with_load(kettle, 1200)
    a_circuit(panel, 5, name="Porch lights")
    a_circuit(panel, 6, kind="spare")
    return panel


@pytest.fixture
def url(lopsided):
    return reverse("balance", args=[lopsided.pk])


def test_the_page_shows_legs_moves_and_what_is_missing(browser, url):
    shown = text(browser.get(url))
    for words in (
        "2,700 VA", "300 VA", "Proven: no arrangement is more even", "As proposed",
        "1 breaker has no load on record", "Porch lights", "by a qualified person",
    ):  # fmt: skip
        assert words in shown


def made(browser, url, lopsided, **more):
    page = browser.get(url)
    moves = page.context["made"].initial["moves"]
    return browser.post(
        reverse("balance-make", args=[lopsided.pk]), {"moves": moves, **more}, follow=True
    )


def places(panel):
    return dict(panel.circuits.values_list("name", "space"))


def test_moves_go_into_the_record_only_when_they_are_said_to_be_made(browser, url, lopsided):
    before = places(lopsided)
    assert "Say first that the breakers have been moved" in text(made(browser, url, lopsided))
    assert places(lopsided) == before
    answer = made(browser, url, lopsided, confirmed="on")
    assert "1 breaker has its new place on record" in text(answer)
    assert places(lopsided) != before
    undo = next(m for m in answer.context["messages"]).extra_tags.removeprefix("undo:")
    assert "Taken back: 1 breaker" in text(browser.post(undo, follow=True))
    assert places(lopsided) == before


def test_moves_shown_before_someone_else_changed_the_panel_are_refused(browser, url, lopsided):
    moves = browser.get(url).context["made"].initial["moves"]
    for circuit in lopsided.circuits.all():
        circuit.notes = "changed meanwhile"
        circuit.save()
    before = places(lopsided)
    make = reverse("balance-make", args=[lopsided.pk])
    assert browser.post(make, {"moves": moves, "confirmed": "on"}).status_code == 412
    assert places(lopsided) == before
    assert browser.post(make, {"moves": "forged", "confirmed": "on"}).status_code == 404


def test_fewer_moves_can_be_asked_for(browser, url):
    assert "Nothing to move" in text(browser.get(url, {"moves": "0"}))
    assert "300 VA" in text(browser.get(url, {"moves": "1"}))
    assert browser.get(url, {"moves": "many"}).status_code == 200


def test_the_proposal_is_kept_as_a_calculation(browser, url):
    stated = {"edition": "2017", "stated_by": "the office", "purpose": "Panel tune-up"}
    answer = browser.post(url, stated, follow=True)
    kept = Calculation.objects.get()
    assert kept.method == "balance"
    assert "Leg balance" in text(answer)
    assert kept.result["sections"][0]["lines"][0]["shown"] == "2,700 VA"
    printed = browser.get(reverse("worksheet", args=[kept.pk]))
    assert printed.content.startswith(b"%PDF")


def test_an_empty_panel_says_what_to_do(browser, panel):
    assert "Record the breakers" in text(browser.get(reverse("balance", args=[panel.pk])))


def test_a_feeder_carries_what_is_behind_it(browser, lopsided):
    from tests.factories.panels import a_panel

    garage = a_panel(lopsided.site, name="Garage", main_a=None, spaces=8, rating_a=60, bus_a=60)
    a_circuit(lopsided, 9, poles=2, kind="feeder", rating_a=60, name="Garage", feeds=garage)
    with_load(a_circuit(garage, 1, name="Compressor"), 1800)
    shown = text(browser.get(reverse("balance", args=[lopsided.pk])))
    assert "3,600 VA" in shown  # 2,700 and half of the garage's on leg A


def test_over_the_api_the_proposal_is_made_and_taken_back(phone, lopsided):
    url = reverse("api-panel-balance", args=[lopsided.pk])
    told = phone.get(url, {"edition": "2017"}).json()
    assert told["proven"]
    keys = [line["key"] for part in told["result"]["sections"] for line in part["lines"]]
    assert {"imbalance_before", "imbalance_after", "bound", "moves", "move_1"} <= set(keys)
    before = places(lopsided)
    done = phone.post(url, {"moves": told["moves"]}, format="json")
    assert places(lopsided) != before
    assert phone.post(url, {"moves": told["moves"]}, format="json").status_code == 412
    assert phone.post(url, done.json(), format="json").status_code == 200
    assert places(lopsided) == before


def test_moves_onto_a_taken_space_are_refused_whole(phone, lopsided):
    toaster = lopsided.circuits.get(name="Toaster")
    porch = lopsided.circuits.get(name="Porch lights")
    moves = [
        {"circuit": str(toaster.pk), "rev": toaster.rev, "space": 3},
        {"circuit": str(porch.pk), "rev": porch.rev, "space": 2},
    ]
    before = places(lopsided)
    url = reverse("api-panel-balance", args=[lopsided.pk])
    answer = phone.post(url, {"moves": moves}, format="json")
    assert (answer.status_code, answer.json()["code"]) == (409, "space_taken")
    assert places(lopsided) == before


def test_a_stranger_to_the_site_finds_nothing(lopsided):
    from tests.panels.conftest import browser_of

    other = browser_of(TechnicianFactory(name="Ola Stranger"))
    assert other.get(reverse("balance", args=[lopsided.pk])).status_code == 404


def test_a_breaker_of_a_source_keeps_its_place_but_not_one_that_only_draws(browser, lopsided):
    circuits = {name: lopsided.circuits.get(name=name) for name in ("Toaster", "Kettle")}
    for kind, name in (("solar", "Toaster"), ("vehicle", "Kettle")):
        sources.add_source(
            site=lopsided.site, kind=kind, name=f"{kind} 1", circuit=circuits[name],
            by=a_recorder(),
        )  # fmt: skip
    sheet = browser.get(reverse("balance", args=[lopsided.pk])).context["sheet"]
    assert sheet.locked == [circuits["Toaster"]]
