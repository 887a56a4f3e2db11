"""Recording by thumb, with and without script."""

from __future__ import annotations

import re
import uuid

import pytest
from django.urls import reverse

from panels.services import circuits
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db
HTMX = {"HTTP_HX_REQUEST": "true"}


def text(answer):
    return " ".join(answer.content.decode().split())


def pressed(space, **said):
    """What the form sends."""
    fill = {"id": uuid.uuid4(), "space": space, "half": "", "size": "1", "rating": "20"}
    return {**fill, "kind": "branch", "name": "", "order": "", **said}


def which(answer):
    """The space the page is about."""
    found = re.search(r"<output data-which>(.*?)</output>", text(answer))
    return found[1] if found else None


@pytest.fixture
def url(panel):
    return reverse("panel-record", args=[panel.pk])


def test_the_first_empty_space_is_ready(browser, url, panel):
    assert which(browser.get(url)) == "1"
    a_circuit(panel, 1, poles=2, rating_a=50)
    assert which(browser.get(url)) == "5"
    assert which(browser.get(f"{url}?space=8")) == "8"
    assert which(browser.get(f"{url}?space=99")) == "5"


def test_without_script_a_press_saves_and_the_next_space_is_there(browser, url, panel):
    answer = browser.post(url, pressed(1, pick="Dishwasher"), follow=True)
    made = panel.circuits.get()
    assert (made.space, made.name, made.rating_a) == (1, "Dishwasher", 20)
    assert which(answer) == "3"
    assert "<strong>1</strong> Dishwasher, 20 A" in text(answer)
    assert "<html" in text(answer)


def test_with_htmx_only_the_turn_comes_back(browser, url):
    answer = browser.post(url, pressed(1, name="Hall"), **HTMX)
    assert answer.status_code == 200
    assert which(answer) == "3"
    assert "<html" not in text(answer)
    assert 'hx-swap-oob="true"' in text(answer)


def test_by_number_goes_across(browser, url):
    answer = browser.post(url, pressed(1, name="Hall", order="number"), follow=True)
    assert which(answer) == "2"
    assert "order=number" in text(answer)


def test_the_next_breaker_starts_as_the_last_one_was(browser, url):
    answer = browser.post(url, pressed(1, size="2", rating="30", name="Dryer"), **HTMX)
    assert which(answer) == "5,7"
    assert re.search(r'name="rating" value="30" checked', text(answer))
    odd = browser.post(url, pressed(5, rating="", other="45", name="Kiln"), **HTMX)
    assert re.search(r'name="rating" value="45" checked', text(odd))


def test_after_the_upper_half_comes_the_lower_half(browser, url, panel):
    answer = browser.post(url, pressed(1, size="t", rating="15", name="Hall"), **HTMX)
    assert which(answer) == "1b"
    answer = browser.post(url, pressed(1, half="b", size="t", rating="15", name="Bath"), **HTMX)
    assert which(answer) == "3a"
    assert set(panel.circuits.values_list("half", flat=True)) == {"a", "b"}


def test_a_quad_takes_the_outer_pair_then_the_inner(browser, url, panel):
    browser.post(url, pressed(1, size="q", rating="30", name="Heat, den"), **HTMX)
    browser.post(url, pressed(1, size="q", rating="20", name="Heat, attic"), **HTMX)
    places = {str(row): row.seat_in(panel.frame).text for row in panel.circuits.all()}
    assert places == {"Heat, den": "1a,3b", "Heat, attic": "1b,3a"}


def test_a_spare_needs_no_name_and_a_feeder_takes_its_panels(browser, url, panel):
    sub = a_panel(panel.site, name="Garage panel", rating_a=100)
    browser.post(url, pressed(1, kind="spare"), **HTMX)
    browser.post(url, pressed(3, kind="feeder", size="2", rating="100", feeds=sub.pk), **HTMX)
    sub.refresh_from_db()
    assert (sub.fed_from.name, sub.fed_from.space) == ("Garage panel", 3)
    assert panel.circuits.get(space=1).kind == "spare"


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"space": 1}, "Space 1 is taken: Range, 50 A, sits in 1,3"),
        ({"space": 41, "size": "2"}, "runs off the end of its column"),
        ({"space": 5, "name": ""}, "Say what it serves"),
        ({"space": 5, "rating": ""}, "Choose the rating"),
        ({"space": 5, "rating": "", "other": "0"}, "greater than or equal to 1"),
        ({"space": 5, "half": "c"}, "not one of the available choices"),
    ],
)
def test_what_is_wrong_is_said_on_the_spot_and_nothing_typed_is_lost(
    browser, url, panel, said, words
):
    a_circuit(panel, 1, poles=2, rating_a=50, name="Range")
    fill = pressed(**{"space": 5, "name": "Attic fan", **said})
    for extra in ({}, HTMX):
        answer = browser.post(url, fill, **extra)
        assert answer.status_code == 422
        assert words in text(answer)
        assert fill["name"] in text(answer)
    assert panel.circuits.count() == 1


def test_a_press_sent_twice_puts_one_breaker(browser, url, panel):
    fill = pressed(1, name="Hall")
    for _again in range(2):
        assert which(browser.post(url, fill, **HTMX)) == "3"
    assert panel.circuits.count() == 1


def test_the_last_breaker_is_taken_back_where_it_was_put(browser, url, panel):
    browser.post(url, pressed(1, name="Hall"))
    made = panel.circuits.get()
    undo = reverse("circuit-undo", args=[panel.pk, made.pk, made.rev])
    assert undo in text(browser.get(f"{url}?last={made.pk}"))
    answer = browser.post(undo, {"next": f"{url}?space=1"}, follow=True)
    assert which(answer) == "1"
    assert not panel.circuits.exists()


def test_taking_back_never_leads_off_the_site(browser, panel):
    made = a_circuit(panel)
    undo = reverse("circuit-undo", args=[panel.pk, made.pk, made.rev])
    answer = browser.post(undo, {"next": "https://elsewhere.example/"})
    assert answer.url == reverse("panel", args=[panel.pk])


def test_a_full_panel_says_so(browser, site):
    small = a_panel(site, name="Small", spaces=2)
    url = reverse("panel-record", args=[small.pk])
    browser.post(url, pressed(1, name="Hall"), **HTMX)
    answer = browser.post(url, pressed(2, name="Bath"), **HTMX)
    assert "Every space is taken" in text(answer)
    assert "Bath, 20 A" in text(answer)


def test_names_used_are_not_offered_again_and_the_firms_own_are(browser, url, panel):
    for number in range(3):
        a_circuit(a_panel(SiteFactory(), name=f"P{number}"), name="Koi pond pump")
    browser.post(url, pressed(1, pick="Dishwasher"))
    shown = text(browser.get(url))
    assert 'value="Dishwasher"' not in shown
    assert 'value="Disposer"' in shown
    assert 'value="Koi pond pump"' in shown


def test_a_breaker_worth_a_second_look_is_told_at_once(browser, url):
    answer = browser.post(url, pressed(1, rating="", other="33", name="Sump"), **HTMX)
    assert "33 A is not a standard breaker rating" in text(answer)


def test_keys_that_do_not_fit_cannot_be_pressed(browser, url, panel):
    a_circuit(panel, 3, name="Hall")
    shown = text(browser.get(f"{url}?space=1"))
    two = re.search(
        r'<label title="([^"]*)"><input type="radio" name="size" value="2"[^>]*>', shown
    )
    assert two is not None
    assert two[1] == "3 is taken."
    assert "disabled" in two[0]


@pytest.mark.parametrize("breakers", [1, 30])
def test_the_turn_asks_the_database_the_same_whatever_the_panel_holds(
    browser, url, panel, breakers, django_assert_num_queries
):
    for space in range(1, breakers + 1):
        a_circuit(panel, space)
    browser.get(url)
    with django_assert_num_queries(7):
        browser.get(url, **HTMX)


def test_someone_else_putting_a_breaker_there_first_is_told(browser, url, panel):
    browser.get(f"{url}?space=1")
    circuits.put_breaker(panel=panel, space=1, rating_a=20, name="Hall", by=a_recorder())
    answer = browser.post(url, pressed(1, name="Bath"), **HTMX)
    assert answer.status_code == 422
    assert "Space 1 is taken: Hall" in text(answer)
