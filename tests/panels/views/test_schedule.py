"""Bringing a schedule in by page: choose, look, take in."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from contractor.models import UploadedList
from tests.factories.panels import a_circuit, a_panel

pytestmark = pytest.mark.django_db
GOOD = "Space,Poles,Breaker A,Description\n1,2,50,Range\n2,1,20,Hall\n"


def text(answer):
    return " ".join(answer.content.decode().split())


def choose(browser, panel, content, name="panel.csv"):
    file = SimpleUploadedFile(name, content.encode())
    return browser.post(reverse("panel-import", args=[panel.pk]), {"file": file}, follow=True)


def test_a_list_is_looked_at_then_taken_in(browser, panel):
    shown = choose(browser, panel, GOOD)
    assert "Take in all 2 breakers" in text(shown)
    assert not panel.circuits.exists()
    kept = UploadedList.objects.get()
    take = reverse("panel-import-take", args=[panel.pk, kept.pk])
    assert "The schedule is taken in." in text(browser.post(take, follow=True))
    assert panel.circuits.count() == 2
    again = text(choose(browser, panel, GOOD))
    assert "Everything in this list is on record already" in again
    preview = reverse("panel-import-preview", args=[panel.pk, kept.pk])
    assert "Breakers put in" in text(browser.get(preview))


def test_bad_lines_are_named_and_cannot_be_taken_in(browser, panel):
    shown = text(choose(browser, panel, GOOD + '"5,8",,30,Dryer\n'))
    assert "Line 4" in shown
    assert "Spaces 5 and 8 are not neighbours in one column" in shown
    kept = UploadedList.objects.get()
    take = reverse("panel-import-take", args=[panel.pk, kept.pk])
    assert take not in shown
    browser.post(take)
    assert not panel.circuits.exists()


@pytest.mark.parametrize(
    ("content", "words"), [("", "The file is empty"), ("a,b\n1,2\n", "No row of the list")]
)
def test_what_is_no_schedule_is_said_at_the_file(browser, panel, content, words):
    answer = choose(browser, panel, content)
    assert answer.status_code == 422
    assert words in text(answer)


def test_a_list_of_another_panel_is_not_there(browser, panel):
    choose(browser, panel, GOOD)
    other = a_panel(panel.site, name="Garage panel")
    kept = UploadedList.objects.get()
    for name, call in {
        "panel-import-preview": browser.get,
        "panel-import-take": browser.post,
    }.items():
        assert call(reverse(name, args=[other.pk, kept.pk])).status_code == 404


def test_the_schedule_and_an_example_download_as_csv(browser, panel):
    a_circuit(panel, 1, name="Hall")
    answer = browser.get(reverse("panel-export", args=[panel.pk]))
    assert answer["Content-Type"].startswith("text/csv")
    assert "main-panel-schedule.csv" in answer["Content-Disposition"]
    assert "1,1,20,Hall,circuit" in answer.content.decode("utf-8-sig")
    assert browser.get(reverse("panel-import-example")).content.startswith(b"\xef\xbb\xbfSpace")
