"""Jobs over the API: booked once, edited by revision, seen by who works there."""

import uuid

import pytest

from jobs.models import Job
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db
URL = "/api/v1/jobs"


def booking(**said) -> dict:
    return {
        "site": str(make.site().pk), "kind": make.kind().pk, "title": "200 A main", **said
    }  # fmt: skip


def test_a_booking_sent_twice_with_one_id_books_once(desk_api):
    sent = booking(id=str(uuid.uuid4()), scope="Dog in the yard")
    first, second = desk_api.post(URL, sent), desk_api.post(URL, sent)
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.data == second.data
    assert (first.data["number"], first.data["next_step"], first["ETag"]) == (
        1001,
        "unplanned",
        '"1"',
    )
    other = desk_api.post(URL, sent | {"title": "Something else"})
    assert (other.status_code, other.data["code"]) == (409, "id_taken")
    assert Job.objects.count() == 1


@pytest.mark.parametrize("missing", ["site", "kind", "title"])
def test_what_is_missing_is_named(desk_api, missing):
    sent = booking()
    del sent[missing]
    answer = desk_api.post(URL, sent)
    assert (answer.status_code, list(answer.data["fields"])) == (400, [missing])


def test_an_unknown_site_is_not_found(desk_api):
    assert desk_api.post(URL, booking(site=str(uuid.uuid4()))).status_code == 404


def test_an_edit_names_the_revision_it_was_based_on(desk_api):
    url = f"{URL}/{make.job().pk}"
    assert desk_api.patch(url, {"title": "Other words"}).status_code == 428
    changed = desk_api.patch(url, {"title": "Other words"}, headers={"If-Match": '"1"'})
    assert (changed.data["title"], changed["ETag"]) == ("Other words", '"2"')
    stale = desk_api.patch(url, {"title": "Mine"}, headers={"If-Match": '"1"'})
    assert (stale.status_code, stale.data["current_rev"]) == (412, 2)


def test_a_job_is_cancelled_with_a_reason_and_put_on_again(desk_api):
    url = f"{URL}/{make.job().pk}/cancelled"
    gone = desk_api.put(url, {"because": "House sold"}, headers={"If-Match": '"1"'})
    assert (gone.data["state"], gone.data["cancelled_because"]) == ("cancelled", "House sold")
    back = desk_api.delete(url, headers={"If-Match": gone["ETag"]})
    assert back.data["state"] == "open"


def test_the_list_is_searched_and_filtered(desk_api):
    job, other = make.job(title="Hot tub feeder"), make.planned().job

    def found(**asked) -> list[str]:
        return [row["id"] for row in desk_api.get(URL, asked).data["results"]]

    assert set(found()) == {str(job.pk), str(other.pk)}
    assert found(q="tub") == [str(job.pk)]
    assert found(next_step="planned") == [str(other.pk)]
    assert found(site=str(other.site_id)) == [str(other.pk)]
    assert found(state="closed") == []
    assert desk_api.get(URL, {"site": "x"}).status_code == 400


def test_a_technician_reads_their_own_jobs_and_books_none(van_api, crew):
    mine, other = make.planned(by_crew=crew).job, make.job()
    assert [row["id"] for row in van_api.get(URL).data["results"]] == [str(mine.pk)]
    assert van_api.get(f"{URL}/{other.pk}").status_code == 404
    assert van_api.post(URL, booking()).status_code == 403
    assert van_api.patch(f"{URL}/{mine.pk}", {}, headers={"If-Match": '"1"'}).status_code == 403


def test_the_kinds_are_listed(van_api):
    names = [row["name"] for row in van_api.get("/api/v1/job-kinds").data["results"]]
    assert "Battery storage" in names
