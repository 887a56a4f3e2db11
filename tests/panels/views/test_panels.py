"""The pages of a panel as a technician uses them."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from panels.models import Panel
from panels.services import circuits, panels, readings, sources
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def typed(**said):
    """A filled-in panel form."""
    plate = {"name": "Garage panel", "system": "1ph-240", "rating_a": 100, "spaces": 24}
    return {**plate, "numbering": "across", "mounting": "surface", "fed": "service", **said}


def text(answer):
    return " ".join(answer.content.decode().split())


def test_the_page_shows_the_whole_schedule(browser, site):
    main, sub = a_full_house(site)
    shown = text(browser.get(reverse("panel", args=[main.pk])))
    for words in ("Main 200 A", "Range", "29", "Spare", "Space", "Outlets 29a", "to Garage panel"):
        assert words in shown
    assert reverse("panel", args=[sub.pk]) in shown
    assert f"{reverse('panel-record', args=[main.pk])}?space=32" in shown
    assert "from Main panel" in text(browser.get(reverse("panel", args=[sub.pk])))


def test_the_empty_half_of_a_tandem_shows_no_rating(browser, panel):
    a_circuit(panel, 3, half="a", name="Hall lights", rating_a=15)
    shown = text(browser.get(reverse("panel", args=[panel.pk])))
    assert '<ul class="halves-of"><li>15</li><li></li></ul>' in shown


def test_an_empty_panel_leads_to_recording(browser, panel):
    shown = text(browser.get(reverse("panel", args=[panel.pk])))
    assert reverse("panel-record", args=[panel.pk]) in shown
    assert "0 breakers on record, 42 spaces free" in shown


@pytest.mark.parametrize("breakers", [2, 30])
def test_the_page_asks_the_database_the_same_whatever_the_panel_holds(
    browser, panel, breakers, django_assert_num_queries
):
    for space in range(1, breakers + 1):
        a_circuit(panel, space)
    sources.add_source(site=panel.site, kind="solar", name="Roof", by=a_recorder())
    readings.record_reading(
        panel=panel, kind="voltage", value=120, between="A-N", by=a_recorder(), now=panel.changed_at
    )
    browser.get(reverse("panel", args=[panel.pk]))
    with django_assert_num_queries(PANEL_PAGE):
        browser.get(reverse("panel", args=[panel.pk]))


PANEL_PAGE = 12


def test_a_panel_is_added_and_then_recorded(browser, site):
    answer = browser.post(reverse("panel-add", args=[site.pk]), typed(main_a=100))
    made = site.panels.get()
    assert answer.url == reverse("panel-record", args=[made.pk])
    assert (made.bus_a, made.main_a) == (100, 100)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"name": "Main panel"}, "already has a panel called Main panel"),
        ({"spaces": 90}, "less than or equal to 84"),
        ({"tandem_spaces": "30-40"}, "there is no space 30"),
        ({"rating_a": ""}, "required"),
    ],
)
def test_what_does_not_fit_comes_back_with_everything_typed(browser, panel, said, words):
    answer = browser.post(
        reverse("panel-add", args=[panel.site_id]), typed(location="Behind the stairs", **said)
    )
    assert answer.status_code == 422
    assert words in text(answer)
    assert "Behind the stairs" in text(answer)
    assert panel.site.panels.count() == 1


def test_a_feeder_loop_is_refused_as_typed(browser, site):
    main, sub = a_full_house(site)
    back = a_circuit(sub, 2, poles=2, rating_a=60, kind="feeder", name="Back feed")
    fill = typed(name="Main panel", rating_a=200, spaces=42, rev=main.rev, fed=str(back.pk))
    answer = browser.post(reverse("panel-edit", args=[main.pk]), fill)
    assert answer.status_code == 422
    assert "Main panel → Garage panel → Main panel" in text(answer)


def test_a_correction_that_came_too_late_is_shown_not_lost(browser, panel):
    fill = typed(name="Main panel", rating_a=200, spaces=42, main_a=200, rev=panel.rev)
    panels.change_panel(panel=panel, location="Hall closet", by=a_recorder())
    answer = browser.post(
        reverse("panel-edit", args=[panel.pk]),
        fill | {"location": panel.location, "notes": "Cover was loose"},
    )
    assert answer.status_code == 422
    assert "Hall closet" in text(answer)
    assert "Cover was loose" in text(answer)


def test_shrinking_a_panel_below_what_it_holds_names_who_stands_in_the_way(browser, panel):
    a_circuit(panel, 41, name="Attic fan")
    fill = typed(name="Main panel", rating_a=200, spaces=24, rev=panel.rev)
    answer = browser.post(reverse("panel-edit", args=[panel.pk]), fill)
    assert answer.status_code == 422
    assert "Attic fan in space 41 stands in the way" in text(answer)


def test_a_retired_panel_stays_readable(browser, panel):
    asked = browser.get(reverse("panel-retire", args=[panel.pk]))
    assert "Retire Main panel?" in text(asked)
    browser.post(reverse("panel-retire", args=[panel.pk]))
    shown = text(browser.get(reverse("panel", args=[panel.pk])))
    assert "This panel was retired on" in shown
    assert reverse("panel-record", args=[panel.pk]) not in shown
    assert browser.get(reverse("panel-record", args=[panel.pk])).status_code == 404


def test_a_retired_panel_is_not_corrected(browser, panel):
    panels.retire_panel(panel=panel, by=a_recorder(), now=panel.changed_at)
    fill = typed(name="Main panel", rating_a=200, spaces=42, rev=2)
    answer = browser.post(reverse("panel-edit", args=[panel.pk]), fill)
    assert answer.status_code == 422
    assert "is retired" in text(answer)


def test_the_sites_page_lists_its_panels(browser, site):
    a_full_house(site)
    shown = text(browser.get(reverse("site", args=[site.pk])))
    for words in ("Main panel", "Garage panel", "Fed from Main panel", "What feeds what"):
        assert words in shown or words == "What feeds what"
    assert reverse("panel-add", args=[site.pk]) in shown


PAGES = ("panel", "panel-edit", "panel-retire", "panel-record", "readings", "panel-import",
         "panel-export")  # fmt: skip


@pytest.mark.parametrize("name", PAGES)
def test_a_panel_elsewhere_is_not_there_for_a_technician(browser, office_browser, name):
    elsewhere = a_panel(SiteFactory())
    assert browser.get(reverse(name, args=[elsewhere.pk])).status_code == 404
    assert office_browser.get(reverse(name, args=[elsewhere.pk])).status_code == 200


def test_circuits_sources_and_readings_elsewhere_are_not_there_either(browser):
    elsewhere = a_panel(SiteFactory())
    circuit = a_circuit(elsewhere)
    source = sources.add_source(site=elsewhere.site, kind="solar", name="Roof", by=a_recorder())
    reading = readings.record_reading(
        panel=elsewhere, kind="torque", value=50, between="Lug", by=a_recorder(),
        now=elsewhere.changed_at,
    )  # fmt: skip
    for name, row in {
        "circuit": circuit, "source": source, "source-remove": source, "reading-remove": reading,
        "panel-add": elsewhere.site, "source-add": elsewhere.site, "backup": elsewhere.site,
    }.items():  # fmt: skip
        assert browser.get(reverse(name, args=[row.pk])).status_code == 404
    assert browser.post(reverse("circuit-remove", args=[circuit.pk])).status_code == 404
    undo = reverse("circuit-undo", args=[elsewhere.pk, circuit.pk, circuit.rev])
    assert browser.post(undo).status_code == 404
    assert elsewhere.circuits.exists()


def test_nobody_gets_in_without_signing_in(panel):
    answer = Client().get(reverse("panel", args=[panel.pk]))
    assert answer.status_code == 302
    assert "sign-in" in answer.url


def test_no_page_carries_style_or_script_inline(browser, site):
    main, _sub = a_full_house(site)
    for name, row in {
        "panel": main,
        "panel-record": main,
        "readings": main,
        "backup": site,
    }.items():
        shown = browser.get(reverse(name, args=[row.pk])).content.decode()
        assert " style=" not in shown
        assert "<script>" not in shown


def test_a_notice_is_shown_with_where_it_comes_from(browser, panel):
    a_circuit(panel, rating_a=33, name="Sump pump")
    shown = text(browser.get(reverse("panel", args=[panel.pk])))
    assert "33 A is not a standard breaker rating" in shown
    assert "240.6(A)" in shown


def test_the_feeder_shown_is_the_one_on_record(browser, site):
    main, sub = a_full_house(site)
    feeder = Panel.objects.get(pk=sub.pk).fed_from
    circuits.change_circuit(circuit=feeder, rating_a=90, by=a_recorder())
    assert "Main panel, 5,7, 90 A" in text(browser.get(reverse("panel", args=[sub.pk])))
    assert "90 A" in text(browser.get(reverse("panel", args=[main.pk])))
