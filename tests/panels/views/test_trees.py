"""Do the pages of a site's tree show what fits, what does not, and where to record the rest?"""

from __future__ import annotations

import html
import re

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from contractor.models import Site
from panels.models import Calculation, Circuit, ServiceEntrance
from tests.panels.sites import ENTRANCE, a_home_and_garage, adopted, an_entrance

pytestmark = pytest.mark.django_db


def words(answer: HttpResponse) -> str:
    """What a reader sees of a page, without its markup."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", answer.content.decode())).split())


def test_the_page_of_feeders_shows_each_panel_with_its_findings(
    browser: Client, site: Site
) -> None:
    main, garage = a_home_and_garage(site)
    adopted(site)
    said = words(browser.get(reverse("feeders", args=[site.pk])))
    assert "Feeder breaker 5,7: 55 A of 60 A." in said
    assert "the load of Main 2 Kitchen counter is not recorded" in said
    assert "Range" in said  # not placed on a circuit
    page = browser.get(reverse("feeders", args=[site.pk])).content.decode()
    kitchen = Circuit.objects.get(panel=main, space=2)
    assert f"{reverse('load-add', args=[site.pk])}?circuit={kitchen.pk}" in page
    assert reverse("panel", args=[garage.pk]) in page
    assert "leg A 55 A, leg B 40 A" in page  # the picture in words


def test_the_roll_up_can_be_kept_and_printed(browser: Client, site: Site) -> None:
    a_home_and_garage(site)
    adopted(site)
    answer = browser.post(reverse("feeders", args=[site.pk]), {"purpose": "permit"}, follow=True)
    made = Calculation.objects.get(method="feeders")
    assert answer.redirect_chain[-1][0] == reverse("calculation", args=[made.pk])
    paper = browser.get(reverse("worksheet", args=[made.pk]))
    assert paper.content.startswith(b"%PDF")


def test_without_an_adoption_the_page_asks_which_edition(browser: Client, site: Site) -> None:
    a_home_and_garage(site)
    url = reverse("feeders", args=[site.pk])
    assert "Which edition?" in words(browser.get(url))
    assert "NFPA 70-2023" in words(browser.get(url, {"edition": "2023"}))
    refused = browser.post(url, {"purpose": ""})
    assert refused.status_code == 422


def test_without_a_panel_the_pages_say_what_comes_first(browser: Client, site: Site) -> None:
    adopted(site)
    for name in ("feeders", "fault"):
        answer = browser.get(reverse(name, args=[site.pk]))
        assert "Record the panels of this site first." in words(answer)


def test_the_page_of_fault_current_asks_for_the_source(browser: Client, site: Site) -> None:
    a_home_and_garage(site)
    adopted(site)
    answer = browser.get(reverse("fault", args=[site.pk]))
    assert "Ask the utility for the figure" in words(answer)
    assert reverse("service", args=[site.pk]) in answer.content.decode()


def test_the_page_of_fault_current_shows_it_at_every_panel(browser: Client, site: Site) -> None:
    """240 V over 240 / 14,500 ohms at X/R 2.5 and twice 40 ft of .10 + j.041 per 1000: 10.25 kA."""
    a_home_and_garage(site)
    an_entrance(site)
    adopted(site)
    said = words(browser.get(reverse("fault", args=[site.pk])))
    assert "14.5 kA" in said
    assert "Panel: 10.25 kA of 22 kA." in said
    assert "not an arc-flash study" in said
    assert "Not asked of a one-family dwelling" in said


def test_what_is_chosen_changes_the_study_and_is_kept_with_it(browser: Client, site: Site) -> None:
    a_home_and_garage(site)
    an_entrance(site)
    adopted(site)
    url = reverse("fault", args=[site.pk]) + "?asked=1&motors=100&convention=after"
    assert "14.9 kA" in words(browser.get(url))  # 4 × 100 A more
    browser.post(url, {"purpose": ""})
    made = Calculation.objects.get(method="fault")
    assert made.inputs["convention"] == "after"
    assert made.inputs["motors"] == {"value": 100.0, "unit": "A"}
    assert "tolerance" not in made.inputs


def test_a_marking_is_printed_from_a_kept_study_only_where_it_is_asked(
    browser: Client, site: Site
) -> None:
    a_home_and_garage(site)
    an_entrance(site, occupancy="other")
    adopted(site)
    answer = browser.post(reverse("fault", args=[site.pk]), {"purpose": ""}, follow=True)
    made = Calculation.objects.get(method="fault")
    label = reverse("fault-marking", args=[made.pk])
    assert label in answer.content.decode()
    assert browser.get(label).content.startswith(b"%PDF")


def test_the_service_entrance_is_typed_in_and_corrected(browser: Client, site: Site) -> None:
    url = reverse("service", args=[site.pk])
    typed = {name: str(value) for name, value in ENTRANCE.items()} | {"wire_sets": "1"}
    typed |= {"disconnect_outdoors": "true", "disconnect_marked": "unknown"}
    assert browser.post(url, typed).status_code == 302
    made = ServiceEntrance.objects.get()
    assert (made.available_ka, made.disconnect_outdoors, made.disconnect_marked) == (
        14.5,
        True,
        None,
    )
    stale = typed | {"rev": str(made.rev), "available_ka": "18"}
    assert browser.post(url, stale).status_code == 302
    assert browser.post(url, stale | {"available_ka": "19"}).status_code == 422
    assert ServiceEntrance.objects.get().available_ka == 18


def test_a_figure_without_its_source_is_refused_at_the_field(browser: Client, site: Site) -> None:
    answer = browser.post(
        reverse("service", args=[site.pk]), {"available_ka": "22", "wire_sets": "1"}
    )
    assert answer.status_code == 422
    assert "Say who at the utility stated the figure" in words(answer)
