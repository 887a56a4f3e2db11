"""One circuit's page: changed, moved, taken out, taken back."""

from __future__ import annotations

import pytest
from django.urls import reverse

from panels.models import Circuit
from panels.services import circuits
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def text(answer):
    return " ".join(answer.content.decode().split())


def typed(circuit, **said):
    fill = {"place": circuit.seat_in(circuit.panel.frame).text, "rev": circuit.rev}
    columns = ("rating_a", "kind", "name", "protection", "notes")
    return {**fill, **{name: getattr(circuit, name) for name in columns}, **said}


def url(circuit):
    return reverse("circuit", args=[circuit.pk])


def test_it_is_changed_and_that_can_be_taken_back(browser, panel):
    circuit = a_circuit(panel, 1, name="Hall")
    answer = browser.post(url(circuit), typed(circuit, place="5,7", name="Range", rating_a=50))
    assert answer.url == reverse("panel", args=[panel.pk])
    circuit.refresh_from_db()
    assert (circuit.space, circuit.poles, circuit.name, circuit.rating_a) == (5, 2, "Range", 50)
    undo = reverse("circuit-undo", args=[panel.pk, circuit.pk, circuit.rev])
    assert undo in text(browser.get(answer.url))
    browser.post(undo)
    circuit.refresh_from_db()
    assert (circuit.space, circuit.poles, circuit.name, circuit.rating_a) == (1, 1, "Hall", 20)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"place": "1,4"}, "Spaces 1 and 4 are not neighbours in one column"),
        ({"place": "9"}, "Space 9 is taken: Dryer"),
        ({"place": "attic"}, "is not a space"),
        ({"name": ""}, "Say what it serves"),
        ({"rating_a": 0}, "greater than or equal to 1"),
        ({"wire_size": "fat"}, "Write a size such as"),
        ({"kind": "spare", "backed_up": "on"}, "cannot be backed up"),
    ],
)
def test_what_is_wrong_is_refused_as_typed(browser, panel, said, words):
    a_circuit(panel, 9, poles=2, name="Dryer", rating_a=30)
    circuit = a_circuit(panel, 1, name="Hall")
    answer = browser.post(url(circuit), typed(circuit, **said))
    assert answer.status_code == 422
    assert words in text(answer)
    circuit.refresh_from_db()
    assert (circuit.rev, circuit.space, circuit.name) == (1, 1, "Hall")


def test_it_changes_places_when_asked(browser, panel):
    hall, bath = a_circuit(panel, 1, name="Hall"), a_circuit(panel, 5, name="Bath")
    browser.post(url(hall), typed(hall, place="5", swap="on"))
    assert dict(panel.circuits.values_list("name", "space")) == {"Hall": 5, "Bath": 1}
    bath.refresh_from_db()
    assert bath.rev == 2


def test_a_change_that_came_too_late_is_joined_and_shown(browser, panel):
    circuit = a_circuit(panel, 1, name="Hall")
    fill = typed(circuit, notes="North wall")
    circuits.change_circuit(circuit=circuit, name="Hall lights", by=a_recorder())
    answer = browser.post(url(circuit), fill)
    assert answer.status_code == 422
    assert 'value="Hall lights"' in text(answer)
    assert "North wall" in text(answer)


def test_a_breaker_comes_to_feed_a_panel_and_stops(browser, panel):
    sub = a_panel(panel.site, name="Garage panel", rating_a=100)
    circuit = a_circuit(panel, 1, poles=2, name="Garage", rating_a=100)
    browser.post(url(circuit), typed(circuit, kind="feeder", feeds=sub.pk))
    sub.refresh_from_db()
    assert sub.fed_from == circuit
    circuit.refresh_from_db()
    refused = browser.post(url(circuit), typed(circuit, kind="branch", feeds=""))
    assert "so it stays a feeder" in text(refused)
    browser.post(url(circuit), typed(circuit, feeds=""))
    sub.refresh_from_db()
    assert sub.fed_from is None


def test_a_branch_circuit_feeds_no_panel(browser, panel):
    sub = a_panel(panel.site, name="Garage panel")
    circuit = a_circuit(panel, 1, poles=2, name="Garage")
    answer = browser.post(url(circuit), typed(circuit, feeds=sub.pk))
    assert "A breaker that feeds a panel is a feeder" in text(answer)


def test_it_is_taken_out_and_put_back(browser, panel):
    circuit = a_circuit(panel, 1, name="Hall")
    answer = browser.post(reverse("circuit-remove", args=[circuit.pk]), follow=True)
    assert "Hall is taken out; its space is empty" in text(answer)
    assert not panel.circuits.exists()
    browser.post(reverse("circuit-undo", args=[panel.pk, circuit.pk, circuit.rev]))
    assert Circuit.objects.get(pk=circuit.pk).name == "Hall"


def test_a_feeder_is_not_taken_out_from_under_its_panel(browser, site):
    main, _sub = a_full_house(site)
    feeder = main.circuits.get(kind="feeder")
    page = reverse("circuit", args=[feeder.pk])
    answer = browser.post(
        reverse("circuit-remove", args=[feeder.pk]),
        headers={"Referer": f"http://testserver{page}"},
        follow=True,
    )
    assert "feeds Garage panel. Say first what feeds" in text(answer)
    assert Circuit.objects.filter(pk=feeder.pk).exists()
