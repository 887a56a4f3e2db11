"""Permits and inspections over the API."""

import pytest
from django.utils import timezone

from tests.factories import jobs as make

pytestmark = pytest.mark.django_db


def test_a_permit_is_applied_for_issued_and_finaled(desk_api):
    job, today = make.job(of="Vehicle supply equipment"), timezone.localdate(timezone=make.ZONE)
    url = f"/api/v1/permits/{job.permits.get().pk}"
    assert desk_api.post(f"{url}/applied", {"on": today}).data["state"] == "applied"
    issued = desk_api.post(f"{url}/issued", {"number": "E-1", "issued_on": today})
    assert (issued.data["state"], issued.data["number"]) == ("issued", "E-1")
    refused = desk_api.post(f"{url}/finaled", {"on": today})
    assert (refused.status_code, refused.data["code"]) == (409, "inspection_open")
    final = f"/api/v1/inspections/{job.inspections.get().pk}"
    asked = desk_api.post(f"{final}/requested", {"inspector": "R. Hale"})
    assert (asked.data["state"], asked.data["inspector"]) == ("requested", "R. Hale")
    passed = desk_api.post(f"{final}/result", {"passed": True, "on": today})
    assert passed.data["state"] == "passed"
    assert desk_api.post(f"{url}/finaled", {"on": today}).data["state"] == "finaled"


def test_a_failure_without_findings_is_refused_at_its_field(desk_api):
    url = f"/api/v1/inspections/{make.job().inspections.first().pk}/result"
    answer = desk_api.post(url, {"passed": False, "on": "2026-11-01"})
    assert (answer.status_code, list(answer.data["fields"])) == (422, ["findings"])


def test_lists_are_narrowed_to_what_needs_a_look(desk_api):
    job, today = make.job(), timezone.localdate()
    job.inspections.filter(name="Final").update(due_on=today)
    assert len(desk_api.get("/api/v1/inspections").data["results"]) == 3
    due = desk_api.get("/api/v1/inspections", {"state": "due"}).data["results"]
    assert [row["name"] for row in due] == ["Final"]
    assert desk_api.get("/api/v1/permits", {"lapsing": "30"}).data["results"] == []
    assert len(desk_api.get("/api/v1/permits", {"state": "needed"}).data["results"]) == 1
    assert desk_api.get("/api/v1/permits", {"lapsing": "soon"}).status_code == 400


def test_a_technician_reads_those_of_their_jobs_and_records_nothing(van_api, crew):
    mine, other = make.planned(by_crew=crew).job, make.job()
    rows = van_api.get("/api/v1/permits").data["results"]
    assert [row["job"] for row in rows] == [str(mine.pk)]
    assert van_api.get(f"/api/v1/inspections/{other.inspections.first().pk}").status_code == 404
    url = f"/api/v1/permits/{mine.permits.get().pk}/applied"
    assert van_api.post(url, {"on": "2026-11-01"}).status_code == 403
