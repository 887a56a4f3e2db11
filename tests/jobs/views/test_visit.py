"""A visit's page: what there is to know, and saying here, leaving, seen from it."""

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs import services as office_services
from jobs.models import Visit
from jobs.planning.words import HoldKind, VisitState
from jobs.services import field
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_full_house
from tests.jobs.conftest import browser_of

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _monday(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    with time_machine.travel(make.at(8, 5), tick=False):
        yield


@pytest.fixture
def visit(technician, crew) -> Visit:
    site = SiteFactory(access_notes="Gate code 4471.", pet_notes="One dog, friendly.")
    job = make.job(of="Service call", at_site=site, scope="Half the lights are dim.")
    return make.planned("Service call", of=job, by_crew=crew)


def page(client, visit) -> str:
    answer = client.get(reverse("visit", args=[visit.pk]))
    assert answer.status_code == 200
    return answer.content.decode()


def press(client, name: str, visit, **sent):
    return client.post(reverse(name, args=[visit.pk]), sent, follow=True)


def test_the_page_says_what_is_to_be_known(in_van, visit):
    main, sub = a_full_house(visit.job.site)
    shown = page(in_van, visit)
    for words in (
        visit.job.site.address, "Gate code 4471.", "One dog, friendly.", "Half the lights are dim.",
        visit.job.site.customer.name, f"tel:{visit.job.site.customer.phone}", "Lee Okafor",
        reverse("panel", args=[main.pk]), reverse("panel-record", args=[sub.pk]),
        reverse("close-out", args=[visit.job_id]), "0 of 2 answered", "I am here",
    ):  # fmt: skip
        assert words in shown, words


def test_here_and_leaving_by_one_press_each_and_taken_back(in_van, visit):
    shown = press(in_van, "visit-here", visit, rev=visit.rev).content.decode()
    assert "You are on site since 8:05 a.m.<" in shown
    assert reverse("visit-not-here", args=[visit.pk]) in shown
    press(in_van, "visit-not-here", visit)
    visit.refresh_from_db()
    assert (visit.state, visit.arrived_at) == (VisitState.PLANNED, None)
    press(in_van, "visit-here", visit)
    shown = press(in_van, "visit-leaving", visit).content.decode()
    assert "Service call is done, left at 8:05 a.m.<" in shown
    press(in_van, "visit-still-here", visit)
    visit.refresh_from_db()
    assert visit.state == VisitState.UNDER_WAY


def test_a_visit_on_hold_cannot_be_begun_and_says_for_what(in_van, visit):
    office_services.add_hold(
        visit=visit, kind=HoldKind.MATERIAL, label="breaker", by=visit.job.booked_by
    )
    shown = page(in_van, visit)
    assert "(breaker)" in shown
    assert "I am here" not in shown
    shown = press(in_van, "visit-here", visit).content.decode()
    assert "waits for: material (breaker)" in shown
    visit.refresh_from_db()
    assert visit.state == VisitState.PLANNED


def test_a_press_on_an_older_page_is_told(in_van, visit):
    office_services.promise_arrival(
        visit=visit, by=visit.job.booked_by, now=make.NOW, promised_from=make.at(8),
        promised_until=make.at(9),
    )  # fmt: skip
    shown = press(in_van, "visit-here", visit, rev=visit.rev).content.decode()
    assert "Someone changed this since you opened it" in shown
    visit.refresh_from_db()
    assert visit.state == VisitState.PLANNED


def test_notes_are_kept_and_a_stale_page_keeps_what_was_typed(in_van, visit):
    press(in_van, "visit-note", visit, rev=visit.rev, text="Meter base loose.")
    visit.refresh_from_db()
    assert visit.notes == "Meter base loose."
    answer = press(in_van, "visit-note", visit, rev=visit.rev - 1, text="Panel cover bent.")
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert "Panel cover bent." in shown
    assert "Meter base loose." in shown
    visit.refresh_from_db()
    assert visit.notes == "Meter base loose."


def test_times_are_written_down_afterwards_in_the_sites_zone(in_van, visit):
    answer = press(
        in_van, "visit-times", visit, rev=visit.rev, arrived_at="2026-11-30T07:30",
        left_at="2026-11-30T08:00",
    )  # fmt: skip
    assert answer.status_code == 200
    visit.refresh_from_db()
    assert (visit.arrived_at, visit.left_at) == (make.at(7, 30), make.at(8))
    assert visit.state == VisitState.DONE
    shown = in_van.get(reverse("visit-times", args=[visit.pk])).content.decode()
    assert 'value="2026-11-30T07:30"' in shown
    answer = press(in_van, "visit-times", visit, arrived_at="2026-11-30T09:30", left_at="")
    assert answer.status_code == 422
    assert "This time lies in the future" in answer.content.decode()


def test_own_and_crew_may_look_others_may_not(visit, crew):
    mate = make.person("Cy Abara")
    crew.people.add(mate)
    assert page(browser_of(mate), visit)
    assert page(browser_of(make.owner()), visit)
    stranger = browser_of(make.person("Rae Vance"))
    for name in ("visit", "visit-times"):
        assert stranger.get(reverse(name, args=[visit.pk])).status_code == 404
    for name in ("visit-here", "visit-leaving", "visit-note", "photo-add"):
        assert stranger.post(reverse(name, args=[visit.pk])).status_code == 404


def test_the_last_visit_under_way_leads_to_the_close_out_list(in_van, visit):
    field.arrive(visit=visit, by=make_field.worker(visit), now=make.at(8))
    assert "Close-out list, 0 of 2" in page(in_van, visit)


def test_another_visit_ahead_leads_to_leaving(in_van, technician, crew):
    job = make.job(of="Vehicle supply equipment")
    visit = make.planned("Survey", of=job, by_crew=crew)
    field.arrive(visit=visit, by=technician, now=make.at(8))
    shown = page(in_van, visit)
    assert '<button class="button primary">Leaving</button>' in shown


def test_a_visit_with_much_to_show_asks_the_database_no_more(in_van, visit):
    def asked() -> int:
        with CaptureQueriesContext(connection) as found:
            page(in_van, visit)
        return len(found)

    a_full_house(visit.job.site)
    by = make_field.worker(visit)
    make_field.photos.add_photo(visit=visit, upload=make_field.picture(), by=by, now=make.at(8))
    asked()
    one = asked()
    for name in ("Third", "Fourth"):
        make_field.a_panel(visit.job.site, name=name)
        office_services.add_visit(job=visit.job, name=name, by=visit.job.booked_by)
        office_services.add_hold(
            visit=visit, kind=HoldKind.OTHER, label=name, by=visit.job.booked_by
        )
        upload = make_field.picture(size=(300, 200))
        make_field.photos.add_photo(visit=visit, upload=upload, by=by, now=make.at(8))
    assert asked() == one
    assert one < 50, one
