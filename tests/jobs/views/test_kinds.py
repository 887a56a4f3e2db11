"""The firm edits its kinds and its planning rules on their pages."""

import pytest
from django.urls import reverse

from jobs import queries
from jobs.models import JobKind, KindHold, KindVisit, SupervisionRule
from jobs.planning.words import Code
from tests.factories import jobs as make
from tests.jobs.conftest import browser_of

pytestmark = pytest.mark.django_db


def test_a_kind_is_made_given_parts_and_booked(at_desk):
    at_desk.post(
        reverse("kind-new"), {"name": "Hot tub feeder", "needs_permit": "on", "is_active": "on"}
    )
    kind = JobKind.objects.get(name="Hot tub feeder")
    assert kind.source == "the firm’s own"
    visit = {"name": "Feeder", "expected_minutes": 240, "people_needed": 2}
    assert at_desk.post(reverse("part-new", args=[kind.pk, "visit"]), visit).status_code == 302
    feeder = kind.visits.get()
    inspection = {"name": "Final", "after": feeder.pk, "due_days": 3}
    at_desk.post(reverse("part-new", args=[kind.pk, "inspection"]), inspection)
    hold = {"visit": feeder.pk, "kind": "material", "label": "tub on its pad"}
    at_desk.post(reverse("part-new", args=[kind.pk, "hold"]), hold)
    line = {"label": "Ground-fault device tried", "asks": "check", "required": "on"}
    at_desk.post(reverse("part-new", args=[kind.pk, "line"]), line)
    job = make.job(of="Hot tub feeder")
    assert job.visits.get().holds.get().label == "tub on its pad"
    assert job.inspections.get().due_days == 3
    assert job.close_out.get().label == "Ground-fault device tried"


def test_a_hold_for_an_inspection_says_which(at_desk):
    visit = make.kind().visits.get(name="Cut-over")
    url = reverse("part-new", args=[visit.kind_id, "hold"])
    said = {"visit": visit.pk, "kind": "inspection"}
    assert at_desk.post(url, said).status_code == 422
    other = make.kind("Service change").inspections.first()
    assert at_desk.post(url, said | {"inspection": other.pk}).status_code == 422
    mine = visit.kind.inspections.get(name="Rough-in")
    assert at_desk.post(url, said | {"inspection": mine.pk}).status_code == 302


def test_a_kind_no_longer_offered_is_not_offered(at_desk):
    kind, site = make.kind(), make.site()
    kept = {"name": kind.name, "needs_permit": "on"}
    at_desk.post(reverse("kind-change", args=[kind.pk]), kept)
    shown = at_desk.get(f"{reverse('job-new')}?site={site.pk}").content.decode()
    assert kind.name not in shown


def test_parts_are_moved_and_removed_after_asking(at_desk):
    kind = make.kind()
    survey = kind.visits.get(name="Survey")
    at_desk.post(reverse("part-reorder", args=["visit", survey.pk, "later"]))
    assert [visit.name for visit in kind.visits.all()][:2] == ["Rough-in", "Survey"]
    url = reverse("part-remove", args=["visit", survey.pk])
    assert "Remove “Survey”" in at_desk.get(url).content.decode()
    assert KindVisit.objects.filter(pk=survey.pk).exists()
    at_desk.post(url)
    assert not KindVisit.objects.filter(pk=survey.pk).exists()
    assert KindHold.objects.filter(visit__kind=kind).count() == 7


def test_every_page_of_the_kinds_opens(at_desk):
    for kind in JobKind.objects.all():
        assert at_desk.get(reverse("kind", args=[kind.pk])).status_code == 200
    assert at_desk.get(reverse("part-new", args=[kind.pk, "nonsense"])).status_code == 404


def test_the_owner_decides_what_may_be_insisted_on(at_desk, office):
    assert at_desk.get(reverse("planning-rules")).status_code == 403
    owner = browser_of(make.owner())
    owner.post(reverse("planning-rules"), {"allowed": ["hold", "licence", "twice"]})
    assert queries.may_override() == {Code.HOLD, Code.LICENCE}
    shown = owner.get(reverse("planning-rules")).content.decode()
    assert "common practice, no source" in shown


def test_the_owner_keeps_a_supervision_rule_with_its_source(office):
    owner = browser_of(make.owner())
    rule = {"state": "OH", "apprentices_per_supervisor": 2, "supervisor_grade": 30}
    assert owner.post(reverse("supervision-new"), rule).status_code == 422
    owner.post(reverse("supervision-new"), rule | {"source": "county rule 4"})
    assert queries.supervision("OH").apprentices_each == 2
    assert queries.supervision("PA").apprentices_each == 1
    owner.post(reverse("supervision-remove", args=[SupervisionRule.objects.get().pk]))
    assert queries.supervision("OH").apprentices_each == 1


def test_an_unbooked_kind_is_removed_after_asking_and_a_booked_one_is_not(at_desk):
    unused, used = make.kind("Solar connection"), make.job().kind
    url = reverse("kind-remove", args=[unused.pk])
    assert "Remove the kind" in at_desk.get(url).content.decode()
    at_desk.post(url)
    at_desk.post(reverse("kind-remove", args=[used.pk]))
    assert list(JobKind.objects.filter(pk__in=[unused.pk, used.pk])) == [used]


def test_the_lines_of_one_job_are_changed_on_its_list(at_desk):
    job = make.job()
    new = {"label": "Attic hatch shut", "asks": "check", "required": "on"}
    at_desk.post(reverse("line-new", args=[job.pk]), new)
    line = job.close_out.get(label="Attic hatch shut")
    at_desk.post(reverse("line-change", args=[line.pk]), new | {"label": "Hatch", "rev": line.rev})
    at_desk.post(reverse("line-reorder", args=[line.pk, "earlier"]))
    shown = at_desk.get(reverse("close-out-list", args=[job.pk])).content.decode()
    assert shown.index("Hatch") < shown.index("Customer’s signature")
    url = reverse("line-remove", args=[line.pk])
    assert "Take “Hatch” off the list?" in at_desk.get(url).content.decode()
    at_desk.post(url)
    assert not job.close_out.filter(label="Hatch").exists()
