"""Asked after an adoption was changed, watched while it is worked, and looked through."""

from __future__ import annotations

import csv
import datetime as dt
import html
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from panels.models import Adoption, Recalculation
from panels.services import recalculating
from tests.factories.contractor import CoordinatorFactory, FirmFactory, TechnicianFactory
from tests.panels.again import NOW, a_home, adopt, keep

pytestmark = pytest.mark.django_db
SIGNED = "django.contrib.auth.backends.ModelBackend"
HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def office(client: Client) -> Client:
    FirmFactory()
    client.force_login(CoordinatorFactory(name="Cora Finch"), backend=SIGNED)
    return client


def text(answer: Any) -> str:
    return " ".join(html.unescape(answer.content.decode()).split())


def work(run: Recalculation) -> None:
    while recalculating.work_batch(run.pk, now=NOW):
        pass


def record(office: Client, **said: Any) -> Any:
    blank = {
        "authority": "", "place": "Harrow Mills, OH", "since": "2026-01-01", "edition": "2026",
        "source": "Ordinance 9, invented", "amendments-TOTAL_FORMS": 1,
        "amendments-INITIAL_FORMS": 0,
    }  # fmt: skip
    return office.post(reverse("adoption-add"), {**blank, **said})


def test_a_recorded_adoption_says_what_it_touches_and_asks(office: Client) -> None:
    adopt("OH", "2017")
    for _each in range(2):
        keep(a_home())
    answer = record(office)
    row = Adoption.objects.get(place="Harrow Mills, OH")
    assert answer.url == reverse("recalculate", args=[row.pk])
    asked = text(office.get(answer.url))
    assert "Calculate 2 homes again" in asked
    assert "2 by edition 2017" in asked
    assert not Recalculation.objects.exists(), "nothing is done before someone says so"
    assert office.post(answer.url).status_code == 302
    assert Recalculation.objects.get().total == 2
    assert "being done already" in text(office.get(answer.url))
    assert "being calculated again already" in text(office.post(answer.url))


def test_where_no_home_was_calculated_nothing_is_asked(office: Client) -> None:
    answer = record(office)
    assert answer.url == reverse("adoptions")
    row = Adoption.objects.get()
    page = text(office.get(reverse("recalculate", args=[row.pk])))
    assert "No home there has a calculation on record" in page


def test_progress_is_asked_for_until_it_is_done(office: Client) -> None:
    adopt("OH", "2017")
    keep(a_home())
    newer = adopt("OH", "2026", since=dt.date(2026, 1, 1))
    url = office.post(reverse("recalculate", args=[newer.pk])).url
    waiting = office.get(url)
    assert 'hx-trigger="every 2s"' in waiting.content.decode()
    assert "It begins within ten seconds" in text(waiting)
    part = office.get(url, **HTMX)
    assert part.content.decode().lstrip().startswith('<section class="section" id="progress"')
    work(Recalculation.objects.get())
    done = office.get(url, **HTMX)
    assert done.headers["HX-Refresh"] == "true"
    assert "hx-trigger" not in done.content.decode()
    page = text(office.get(url))
    assert "Calculations: 1 of 1. Homes: 1." in page
    assert "89.5 A" in page, "before: 21,480 VA at 240 V (Annex D, Example D2(a))"
    assert "82.0 A" in page, "now: 19,680 VA"
    assert "Line by line" in page


def test_it_is_stopped_and_taken_up_again(office: Client) -> None:
    adopt("OH", "2017")
    keep(a_home())
    newer = adopt("OH", "2026", since=dt.date(2026, 1, 1))
    office.post(reverse("recalculate", args=[newer.pk]))
    run = Recalculation.objects.get()
    stopped = office.post(reverse("recalculation-stop", args=[run.pk]), follow=True)
    assert "What was kept until now stays" in text(stopped)
    assert "Go on with the rest" in text(stopped)
    on = office.post(reverse("recalculation-go-on", args=[run.pk]), follow=True)
    assert "It goes on with the homes that are left" in text(on)
    work(run)
    assert "done" in text(office.get(reverse("recalculation", args=[run.pk])))


def test_homes_above_their_service_have_a_list_and_all_have_a_file(office: Client) -> None:
    adoption = adopt("OH", "2017")
    small, large = a_home(service_a=60), a_home(service_a=200)
    for site in (small, large):
        keep(site, method="standard")
    office.post(reverse("recalculate", args=[adoption.pk]))
    run = Recalculation.objects.get()
    work(run)
    page = office.get(reverse("recalculation", args=[run.pk]), {"show": "over"})
    assert str(small) in text(page)
    assert str(large) not in text(page)
    assert "above the service" in text(page)
    nothing = office.get(reverse("recalculation", args=[run.pk]), {"show": "nonsense"})
    assert "No answer has changed" in text(nothing)
    file = office.get(reverse("recalculation-export", args=[run.pk]))
    lines = b"".join(file.streaming_content).decode("utf-8-sig").splitlines()
    rows = {row["Site"]: row for row in csv.DictReader(lines)}
    assert rows[small.street]["Above the service"] == "yes"
    assert rows[large.street]["Above the service"] == ""
    assert rows[large.street]["What came of it"] == "same"


def test_the_adoptions_page_lists_the_rounds(office: Client) -> None:
    adoption = adopt("OH", "2017")
    keep(a_home())
    office.post(reverse("recalculate", args=[adoption.pk]))
    assert "0 of 1; kept anew: 0" in text(office.get(reverse("adoptions")))


def test_technicians_do_not_recalculate(client: Client) -> None:
    adoption = adopt("OH", "2017")
    client.force_login(TechnicianFactory(), backend=SIGNED)
    assert client.get(reverse("recalculate", args=[adoption.pk])).status_code == 403
