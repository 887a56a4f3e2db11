"""Conductors on pages: asked by themselves, started from a circuit, kept for the site."""

from __future__ import annotations

from http import HTTPStatus
from urllib.parse import urlencode

import pytest
from django.urls import reverse

from panels.models import Calculation
from panels.rules.working import from_plain
from tests.factories.panels import a_circuit
from tests.panels.again import adopt

pytestmark = pytest.mark.django_db
ASKED = {"metal": "cu", "volts": "240", "phases": "1", "raceway": "pvc", "edition": "2023"}


def text(answer):
    return " ".join(answer.content.decode().split())


def look(browser, url=None, **said):
    return browser.get(f"{url or reverse('conductors')}?{urlencode({**ASKED, **said})}")


def address(circuit):
    return reverse("circuit-conductor", args=[circuit.pk])


@pytest.fixture
def range_circuit(panel):
    return a_circuit(
        panel, 1, poles=2, rating_a=50, name="Range", wire_size="8", wire_material="cu",
        length_ft=60, raceway="pvc", terminal_c=75, ground_size="10",
    )  # fmt: skip


def test_the_page_asks_and_nothing_is_answered_before(browser):
    answer = browser.get(reverse("conductors"))
    assert answer.status_code == HTTPStatus.OK
    assert "Work it out" in text(answer)
    assert "Not answered yet" not in text(answer)


def test_an_answer_stands_in_the_address(browser):
    page = text(look(browser, device="60", noncontinuous="48", length="200 ft", drop_limit="3"))
    assert "4 AWG copper" in page
    assert "Voltage drop: drops 3.94 %, the limit is 3 %" in page
    assert "Table 310.16" in page
    assert "A planning aid." in page
    assert "from memory; confirm against the printed code" in page


def test_an_installed_conductor_that_fails_says_why(browser):
    page = text(look(browser, device="30", size="12", ground="14"))
    assert "The installed conductor does not pass" in page
    assert "Overcurrent device: may be 20 A (limit for this size), is 30 A" in page
    assert "is 14 AWG copper, needs 10 AWG copper" in page
    assert "passes every check" in text(look(browser, device="20", size="12"))


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"edition": ""}, "Edition: Choose the edition in force"),
        ({}, "Breaker or fuse, A: is missing"),
        ({"device": "20", "length": "50"}, "Length, one way: &#x27;50&#x27; needs a number"),
        ({"device": "20", "ambient": "95 A"}, "95 A is not a temperature"),
        ({"device": "50", "continuous": "48"}, "50 A is too small"),
        ({"device": "20", "metal": "tin"}, "Metal: Select a valid choice"),
    ],
)
def test_a_slip_is_told_at_its_field(browser, said, told):
    answer = look(browser, **{"size": "8", **said})
    assert answer.status_code == HTTPStatus.OK
    page = text(answer)
    assert "Not answered yet" in page
    assert told in page
    assert page.count("data-error-summary") == 1


def test_where_no_size_passes_a_sentence_says_what_to_try(browser):
    assert "Try more sets" in text(look(browser, device="600"))


def test_a_circuit_starts_from_its_record(browser, range_circuit):
    adopt(range_circuit.panel.site.authority, "2023")
    answer = browser.get(address(range_circuit))
    page = text(answer)
    assert "passes every check" in page  # 8 AWG copper carries 50 A at 75 °C
    assert "80 % of the breaker is taken" in page
    assert 'value="60 ft"' in page
    drop = answer.context["sheet"].answers[2].result
    assert drop.value("drop_percent") == pytest.approx(2 * 40 * 0.06 * 0.7817 / 240 * 100, rel=0.01)
    assert address(range_circuit) in text(browser.get(reverse("circuit", args=[range_circuit.pk])))


def test_another_size_is_looked_at_without_touching_the_record(browser, range_circuit):
    adopt(range_circuit.panel.site.authority, "2023")
    page = text(look(browser, address(range_circuit), edition="", device="50", size="10"))
    assert "does not pass" in page
    range_circuit.refresh_from_db()
    assert range_circuit.wire_size == "8"


def test_a_circuit_without_a_metal_is_not_guessed(browser, panel):
    circuit = a_circuit(panel, 1, name="Hall")
    adopt(panel.site.authority, "2023")
    page = text(browser.get(address(circuit)))
    assert "The metal of the conductor is not recorded" in page
    assert "AWG copper" not in page.split('id="asked"')[0]


def test_without_an_adoption_the_page_asks_and_lets_one_be_chosen(browser, range_circuit):
    page = text(browser.get(address(range_circuit)))
    assert "No adopted edition is recorded" in page
    chosen = text(look(browser, address(range_circuit), device="50", edition="2020"))
    assert "who stated that it applies" in chosen


def test_an_answer_is_kept_for_the_site_and_never_altered(browser, range_circuit):
    adopt(range_circuit.panel.site.authority, "2023")
    kept = browser.post(address(range_circuit), {"method": "conductor", "purpose": "EL-26-0317"})
    made = Calculation.objects.get()
    assert kept.url == reverse("calculation", args=[made.pk])
    assert (made.method, made.purpose) == ("conductor", "EL-26-0317")
    assert made.inputs["device"] == "50 A"
    assert from_plain(made.result).value("conductor") == "8 AWG copper"
    page = text(browser.get(kept.url))
    assert "8 AWG copper" in page
    paper = browser.get(reverse("worksheet", args=[made.pk]))
    assert paper["Content-Type"] == "application/pdf"


def test_what_is_kept_is_what_was_looked_at(browser, range_circuit):
    adopt(range_circuit.panel.site.authority, "2023")
    query = urlencode({**ASKED, "edition": "", "device": "50", "size": "10"})
    browser.post(f"{address(range_circuit)}?{query}", {"method": "ampacity"})
    made = Calculation.objects.get()
    assert made.inputs["size"] == "10"
    assert from_plain(made.result).value("verdict") == "fails"


def test_an_edition_chosen_here_is_kept_only_with_who_stated_it(browser, range_circuit):
    url = f"{address(range_circuit)}?{urlencode({**ASKED, 'device': '50', 'edition': '2020'})}"
    said = {"method": "conductor", "edition": "2020"}
    refused = browser.post(url, said)
    assert refused.status_code == HTTPStatus.UNPROCESSABLE_ENTITY
    assert "Say who stated the edition" in text(refused)
    browser.post(url, {**said, "stated_by": "Plans examiner, by phone"})
    assert Calculation.objects.get().edition == "2020"
