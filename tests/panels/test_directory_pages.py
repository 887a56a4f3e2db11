"""The directory's page: issuing, differences, papers, the code on the door, and who may see it."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from django.utils import timezone

from contractor.models import CustomerLink
from panels.models import DirectoryRevision
from panels.services import circuits, directory, panels
from tests.factories.contractor import CoordinatorFactory, FirmFactory, TechnicianFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder
from tests.panels import reading

pytestmark = pytest.mark.django_db
SIGNED = "django.contrib.auth.backends.ModelBackend"


@pytest.fixture
def office(client):
    FirmFactory()
    client.force_login(CoordinatorFactory(name="Ada Roe"), backend=SIGNED)
    return client


def page(client, panel):
    return client.get(reverse("directory", args=[panel.pk])).content.decode()


def issue(client, panel):
    return client.post(reverse("directory-issue", args=[panel.pk]), follow=True).content.decode()


def test_the_first_issue_is_offered_made_and_signed(office):
    panel = a_panel()
    assert "Issue revision 1" in page(office, panel)
    said = issue(office, panel)
    assert "Revision 1 is issued" in said
    assert "The record is what revision 1 says." in said
    assert DirectoryRevision.objects.get().issued_by.name == "Ada Roe"
    assert "Issue revision" not in said


def test_a_later_change_is_told_on_both_pages_and_the_next_revision_offered(office):
    panel = a_panel()
    circuit = a_circuit(panel, 12, name="Bedroom")
    issue(office, panel)
    circuits.change_circuit(circuit=circuit, name="Bedroom 2 receptacles", by=a_recorder())
    said = page(office, panel)
    assert re.search(r"space 12</strong>: was “Bedroom”, now “Bedroom 2 receptacles”", said)
    assert "Issue revision 2" in said
    behind = office.get(reverse("panel", args=[panel.pk])).content.decode()
    assert "differs from directory revision 1 in one place" in behind
    assert "Revision 2 is issued" in issue(office, panel)
    assert "differs" not in office.get(reverse("panel", args=[panel.pk])).content.decode()


def test_issuing_without_a_change_says_so(office):
    panel = a_panel()
    issue(office, panel)
    assert "Nothing has changed; revision 1 still stands." in issue(office, panel)


def test_every_paper_of_every_revision_opens(office):
    main, sub = a_full_house()
    for panel in (main, sub):
        issue(office, panel)
    revision = directory.latest(main)
    for name in ("directory-letter", "directory-card"):
        answer = office.get(reverse(name, args=[revision.pk]))
        assert answer["Content-Type"] == "application/pdf"
        assert "rev-1" in answer["Content-Disposition"]
        assert "Main panel" in reading.text(answer.content)
    both = reading.text(office.get(reverse("site-directories", args=[main.site_id])).content)
    assert "Garage panel" in both
    for name, key in (("directory-picture", revision.pk), ("directory-preview", main.pk)):
        answer = office.get(reverse(name, args=[key]))
        assert answer["Content-Type"] == "image/svg+xml"
        assert answer.content.startswith(b"<svg")
        packed = office.get(reverse(name, args=[key]), headers={"Accept-Encoding": "gzip"})
        assert len(packed.content) < len(answer.content) / 3


def test_an_old_revision_prints_as_it_was(office):
    panel = a_panel()
    circuit = a_circuit(panel, 12, name="Bedroom")
    issue(office, panel)
    first = directory.latest(panel)
    circuits.change_circuit(circuit=circuit, name="Study", by=a_recorder())
    panels.change_panel(panel=panel, name="House panel", by=a_recorder())
    issue(office, panel)
    said = reading.text(office.get(reverse("directory-letter", args=[first.pk])).content)
    assert "Bedroom" in said
    assert "Main panel" in said
    assert "Study" not in said


def test_before_an_issue_there_is_nothing_of_the_whole_site_to_print(office):
    panel = a_panel()
    answer = office.get(reverse("site-directories", args=[panel.site_id]))
    assert answer.status_code == 409


def test_the_office_takes_the_code_back_and_makes_a_new_one(office):
    panel = a_panel()
    issue(office, panel)
    old = CustomerLink.objects.get(subject=panel.pk)
    said = office.post(reverse("directory-code-end", args=[panel.pk]), follow=True)
    assert "No code opens this panel’s page" in said.content.decode()
    assert office.get(reverse("customer-page", args=[old.token])).status_code == 410
    office.post(reverse("directory-code", args=[panel.pk]))
    new = CustomerLink.objects.get(subject=panel.pk, revoked_at=None)
    assert office.get(reverse("customer-page", args=[new.token])).status_code == 200


def test_the_office_makes_an_address_for_the_customer(office):
    panel = a_panel()
    url = reverse("customer-link", args=[panel.site_id])
    assert "No address opens it" in office.get(url).content.decode()
    said = office.post(url, follow=True).content.decode()
    link = CustomerLink.objects.get(purpose=CustomerLink.Purpose.MAIL)
    assert reverse("customer-page", args=[link.token]) in said
    office.post(url)
    assert CustomerLink.objects.count() == 1


def test_a_retired_panel_offers_no_issue(office):
    panel = a_panel()
    panels.retire_panel(panel=panel, now=timezone.now(), by=a_recorder())
    assert "Issue revision" not in page(office, panel)


@pytest.mark.parametrize(
    "name",
    ["directory", "directory-preview", "directory-letter", "directory-card", "directory-picture"],
)
def test_a_technician_without_a_visit_there_finds_nothing(client, name):
    FirmFactory()
    panel = a_panel()
    revision = directory.issue_directory(panel=panel, by=a_recorder(), now=timezone.now())
    key = panel.pk if name in ("directory", "directory-preview") else revision.pk
    assert client.get(reverse(name, args=[key])).status_code == 302  # to sign in
    client.force_login(TechnicianFactory(), backend=SIGNED)
    assert client.get(reverse(name, args=[key])).status_code == 404
    assert client.post(reverse("directory-issue", args=[panel.pk])).status_code == 404
    assert client.post(reverse("directory-code-end", args=[panel.pk])).status_code == 403


def test_issuing_by_a_get_is_refused(office):
    panel = a_panel()
    assert office.get(reverse("directory-issue", args=[panel.pk])).status_code == 405


def test_the_page_asks_as_few_questions_whatever_the_panel_holds(
    office, django_assert_max_num_queries
):
    panel = a_panel()
    issue(office, panel)
    for space in range(1, 20):
        a_circuit(panel, space)
        if space % 5 == 0:
            issue(office, panel)
    with django_assert_max_num_queries(14):
        page(office, panel)
