"""The record check as people see it: on the panel's page, on its own, and over the API."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from django.urls import reverse

from panels.services import adoptions, circuits, sources
from tests.factories.contractor import OwnerFactory
from tests.factories.panels import a_circuit, a_full_house, a_recorder
from tests.panels.conftest import browser_of, phone_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def adopted(site):
    return adoptions.record_adoption(
        authority=None, place=site.state, since=dt.date(2018, 1, 1), edition="2017",
        source="State rule 4101", by=a_recorder(),
    )  # fmt: skip


def text(answer):
    return " ".join(answer.content.decode().split())


def page_of(panel, **asked):
    query = "&".join(f"{name}={value}" for name, value in asked.items())
    return f"{reverse('panel-check', args=[panel.pk])}?{query}"


def test_a_failure_is_on_the_panels_page_with_its_section_and_leads_to_the_circuit(
    browser, panel, adopted
):
    circuit = a_circuit(panel, 1, name="Misc")
    shown = text(browser.get(reverse("panel", args=[panel.pk])))
    assert "“Misc” does not say what is served and where." in shown
    assert "NFPA 70-2017, 408.4(A)" in shown
    assert f'<a href="{reverse("circuit", args=[circuit.pk])}">1 Misc</a>' in shown
    assert "1 fails," in shown
    assert reverse("panel-check", args=[panel.pk]) in shown


def test_putting_it_right_takes_the_failure_away(browser, panel, adopted):
    circuit = a_circuit(panel, 1, name="Misc")
    circuits.change_circuit(circuit=circuit, name="Sump pump", by=a_recorder())
    assert "does not say" not in text(browser.get(page_of(panel)))


def test_alike_findings_stand_together(browser, panel, adopted):
    for space in (1, 2, 3):
        a_circuit(panel, space, name=f"Sump pump, pit {space}")
    shown = text(browser.get(page_of(panel, show="cannot_tell", rule="AFCI")))
    assert shown.count("Not recorded: what the service serves.") == 1
    assert [f"{space} Sump pump, pit {space}" in shown for space in (1, 2, 3)] == [True] * 3


def test_the_filter_shows_one_outcome_and_one_rule(browser, panel, adopted):
    a_circuit(panel, 1, name="Misc")
    passes = text(browser.get(page_of(panel, show="pass")))
    assert "does not say" not in passes
    assert "20 A is a standard rating." in passes
    only = text(browser.get(page_of(panel, show="all", rule="OCP4")))
    headings = re.findall(r'<span class="tag">(\w+)</span>', only)
    assert set(headings) == {"OCP4"}
    assert "everything" in only


def test_a_filter_of_nonsense_shows_what_needs_doing(browser, panel, adopted):
    a_circuit(panel, 1, name="Misc")
    assert "does not say" in text(browser.get(page_of(panel, show="nonsense")))


def test_without_an_adoption_the_page_asks_and_takes_an_edition_for_this_look(browser, panel):
    a_circuit(panel, 1, name="Misc", rating_a=33)
    asking = text(browser.get(page_of(panel)))
    assert "Which edition?" in asking
    assert "No adopted edition is recorded" in asking
    looked = text(browser.get(page_of(panel, edition="2023")))
    assert "chosen for this look" in looked
    assert "NFPA 70-2023, 408.4(A)" in looked
    glance = text(browser.get(reverse("panel", args=[panel.pk])))
    assert "No adopted edition is recorded" in glance
    assert "33 A is not a standard breaker rating" in glance


def test_an_edition_nobody_knows_is_refused_in_words(browser, panel):
    assert "Choose one of" in text(browser.get(page_of(panel, edition="1999")))


def test_what_may_need_the_printed_code_says_so(browser, panel, adopted):
    circuit = a_circuit(panel, 1, poles=2, rating_a=40, kind="source", name="Roof inverter")
    sources.add_source(site=panel.site, kind="solar", name="Roof", circuit=circuit, by=a_recorder())
    shown = text(browser.get(page_of(panel, edition="2020", rule="PV2")))
    assert "the rated output current of its inverter" in shown
    assert "confirm against the printed code" in shown


def test_the_page_says_that_old_work_is_judged_by_its_own_code(browser, panel, adopted):
    assert "judged by the code it was built under" in text(browser.get(page_of(panel)))


def test_the_other_panels_of_the_site_are_one_step_away(browser, site, adopted):
    main, sub = a_full_house(site)
    shown = text(browser.get(page_of(main)))
    assert reverse("panel-check", args=[sub.pk]) in shown


def test_owner_and_office_see_it_and_a_stranger_does_not(office, panel, adopted):
    stranger = a_recorder()
    for person, status in ((office, 200), (OwnerFactory(), 200), (stranger, 404)):
        assert browser_of(person).get(page_of(panel)).status_code == status
        answer = phone_of(person).get(f"/api/v1/panels/{panel.pk}/check")
        assert answer.status_code == status


def test_the_api_gives_every_finding_with_its_counts(technician, panel, adopted):
    circuit = a_circuit(panel, 1, name="Misc")
    told = phone_of(technician).get(f"/api/v1/panels/{panel.pk}/check").json()
    assert (told["edition"], told["edition_title"]) == ("2017", "NFPA 70-2017")
    assert sum(told["counts"].values()) == len(told["findings"])
    (failed,) = [one for one in told["findings"] if one["outcome"] == "fail"]
    assert failed["rule"] == "DIR1"
    assert failed["label"] == "1 Misc"
    assert failed["place"] == {"kind": "circuit", "id": str(circuit.pk)}
    assert told["cautions"]
    assert "State rule 4101" in told["edition_by"]


def test_the_api_takes_an_edition_and_refuses_to_guess_one(technician, panel):
    phone = phone_of(technician)
    asked = phone.get(f"/api/v1/panels/{panel.pk}/check")
    assert asked.status_code == 422
    assert "No adopted edition" in str(asked.json())
    told = phone.get(f"/api/v1/panels/{panel.pk}/check?edition=2026").json()
    assert told["edition_title"] == "NFPA 70-2026"


def test_the_check_asks_the_database_the_same_whatever_the_site_holds(
    browser, site, panel, adopted, django_assert_num_queries
):
    for spaces in (range(1, 3), range(3, 40)):
        for space in spaces:
            a_circuit(panel, space)
        browser.get(page_of(panel))
        with django_assert_num_queries(CHECK_PAGE):
            browser.get(page_of(panel))


CHECK_PAGE = 20
