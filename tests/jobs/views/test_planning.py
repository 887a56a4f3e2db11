"""Planning on the page: what it would mean, insisting, moving, undoing."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from jobs.models import Visit
from jobs.planning.words import VisitState
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db

LATER = make.MONDAY + dt.timedelta(days=365)  # a Tuesday that lies ahead whenever this runs


def asked(crew, **said) -> dict:
    return {"crew": crew.pk, "day": LATER.isoformat(), "starts": "09:00", **said}


def url(visit: Visit, name: str = "visit-plan") -> str:
    return reverse(name, args=[visit.pk])


def test_the_page_shows_every_crews_day_beside_it(at_desk, crew):
    make.planned(by_crew=crew, starts_at=make.at(10, day=LATER))
    shown = at_desk.get(url(make.visit()), {"day": LATER.isoformat()}).content.decode()
    assert "North crew" in shown
    assert "1001 Survey" in shown
    assert '<rect x="240"' in shown  # four hours after the strip begins at six


def test_asking_what_it_would_mean_writes_nothing(at_desk, crew):
    visit = make.visit()
    answer = at_desk.post(url(visit), asked(crew, check="1"))
    assert "Nothing stands against" in answer.content.decode()
    refused = at_desk.post(
        url(visit), asked(crew, check="1", starts="05:00"), headers={"HX-Request": "true"}
    )
    assert "outside working hours" in refused.content.decode()
    assert "<html" not in refused.content.decode()
    assert Visit.objects.get(pk=visit.pk).state == VisitState.UNPLANNED


def test_a_visit_is_planned_moved_and_each_taken_back(at_desk, crew):
    visit = make.visit()
    shown = at_desk.post(url(visit), asked(crew), follow=True).content.decode()
    visit.refresh_from_db()
    assert (visit.state, visit.starts_at) == (VisitState.PLANNED, make.at(9, day=LATER))
    moved = at_desk.post(url(visit), asked(crew, starts="13:00"), follow=True).content.decode()
    visit.refresh_from_db()
    assert visit.starts_at == make.at(13, day=LATER)
    at_desk.post(undo_in(moved))
    visit.refresh_from_db()
    assert (visit.starts_at, visit.assignments.count()) == (make.at(9, day=LATER), 2)
    stale = at_desk.post(undo_in(shown))  # the first undo is older than what followed it
    visit.refresh_from_db()
    assert (stale.status_code, visit.state) == (412, VisitState.PLANNED)


def undo_in(shown: str) -> str:
    return re.search(r'action="(/visits/[^"]+/restore/[^"]*)"', shown)[1].replace("&amp;", "&")


def test_taken_off_the_plan_and_put_back(at_desk, crew):
    visit = make.planned(by_crew=crew, starts_at=make.at(9, day=LATER))
    shown = at_desk.post(url(visit, "visit-unplan"), follow=True).content.decode()
    assert Visit.objects.get(pk=visit.pk).state == VisitState.UNPLANNED
    at_desk.post(undo_in(shown))
    assert Visit.objects.get(pk=visit.pk).starts_at == make.at(9, day=LATER)


def test_an_undo_that_was_tampered_with_is_refused(at_desk, crew):
    visit = make.planned(by_crew=crew, starts_at=make.at(9, day=LATER))
    assert at_desk.post(f"{url(visit, 'visit-restore')}?was=abc").status_code == 409


def test_a_refusal_offers_to_insist_and_the_reason_is_kept(at_desk, crew):
    visit = make.visit("Rough-in", free=False)
    answer = at_desk.post(url(visit), asked(crew))
    assert answer.status_code == 422
    assert 'name="reason_hold"' in answer.content.decode()
    done = at_desk.post(url(visit), asked(crew, reason_hold="On its way"), follow=True)
    assert "insisted on" in done.content.decode()
    assert visit.overrides.first().reason == "On its way"


def test_what_cannot_be_insisted_on_offers_no_reason(at_desk, crew):
    make.planned(by_crew=crew, starts_at=make.at(9, day=LATER))
    answer = at_desk.post(url(make.visit()), asked(crew)).content.decode()
    assert "This cannot be insisted on" in answer
    assert 'name="reason_twice"' not in answer


def test_someone_elses_move_meanwhile_is_told(at_desk, crew):
    visit = make.visit()
    old = visit.rev
    assert at_desk.post(url(visit), asked(crew, rev=old)).status_code == 302
    answer = at_desk.post(url(visit), asked(crew, starts="14:00", rev=old))
    assert "Someone changed this" in answer.content.decode()
    assert Visit.objects.get(pk=visit.pk).starts_at == make.at(9, day=LATER)


def test_chosen_people_go_and_are_still_chosen_when_the_page_is_opened_again(at_desk, crew):
    visit, other = make.visit(), make.person("Marta Voss")
    at_desk.post(url(visit), asked(crew, people=[str(other.pk)]))
    assert [row.person for row in visit.assignments.all()] == [other]
    shown = at_desk.get(url(visit)).content.decode()
    assert re.search(rf'value="{other.pk}"[^>]*checked', shown)


def test_times_are_those_at_the_site(at_desk, crew):
    visit = make.visit(of=make.job(at_site=make.site(time_zone="America/Chicago")))
    at_desk.post(url(visit), asked(crew))
    visit.refresh_from_db()
    assert visit.starts_at.astimezone(make.ZONE).hour == 10


def test_the_way_back_leads_only_to_our_own_pages(at_desk, crew):
    visit = make.visit()
    answer = at_desk.post(url(visit), asked(crew, next="https://elsewhere.example/"))
    assert answer["Location"] == reverse("job", args=[visit.job_id])
    back = at_desk.post(url(visit), asked(crew, starts="11:00", next="/week/?from=2026-11-30"))
    assert back["Location"] == "/week/?from=2026-11-30"
