"""Visits over the API: by day, planned or refused with every reason, holds released."""

import datetime as dt
import uuid

import pytest

from jobs.models import Visit
from jobs.planning.words import VisitState
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db
URL = "/api/v1/visits"
LATER = make.MONDAY + dt.timedelta(days=365)


def sent(crew, **said) -> dict:
    return {"crew": crew.pk, "starts_at": make.at(9, day=LATER).isoformat(), **said}


def based_on(rev: int) -> dict:
    return {"If-Match": f'"{rev}"'}


def test_a_crew_is_put_on_a_visit_moved_and_taken_off(desk_api, crew):
    visit = make.visit()
    url = f"{URL}/{visit.pk}/plan"
    planned = desk_api.put(url, sent(crew), headers=based_on(visit.rev))
    assert (planned.status_code, planned.data["state"]) == (200, "planned")
    assert set(planned.data["people"]) == {person.pk for person in crew.people.all()}
    assert desk_api.put(url, sent(crew), headers=based_on(visit.rev)).status_code == 412
    off = desk_api.delete(url, headers={"If-Match": planned["ETag"]})
    assert (off.data["state"], off.data["crew"]) == ("unplanned", None)
    assert desk_api.delete(url).status_code == 428


def test_a_refusal_names_every_reason_and_gives_way_where_it_may(desk_api, crew):
    visit = make.visit("Rough-in", free=False)
    url, early = f"{URL}/{visit.pk}/plan", make.at(5, day=LATER).isoformat()
    refused = desk_api.put(url, sent(crew, starts_at=early), headers=based_on(visit.rev))
    assert refused.status_code == 409
    assert [row["code"] for row in refused.data["reasons"]] == ["hold", "hold", "hours"]
    assert refused.data["can_override"]
    insisted = sent(
        crew, starts_at=early, overrides={"hold": "It is here.", "hours": "They asked."}
    )
    assert desk_api.put(url, insisted, headers=based_on(visit.rev)).status_code == 200
    assert visit.overrides.count() == 3


@pytest.mark.parametrize("year", [1, 1989, 2100, 9999])
def test_a_slipped_year_is_refused_in_words(desk_api, crew, year):
    visit = make.visit()
    slipped = make.at(9, day=LATER).replace(year=year).isoformat()
    refused = desk_api.put(
        f"{URL}/{visit.pk}/plan", sent(crew, starts_at=slipped), headers=based_on(visit.rev)
    )
    assert refused.status_code == 400
    assert "Look at the year" in str(refused.data["fields"]["starts_at"])
    promise = {"promised_from": slipped, "promised_until": slipped}
    told = desk_api.put(f"{URL}/{visit.pk}/promise", promise, headers=based_on(visit.rev))
    assert told.status_code == 400
    assert set(told.data["fields"]) == {"promised_from", "promised_until"}


def test_an_override_of_nothing_known_is_refused(desk_api, crew):
    visit = make.visit()
    answer = desk_api.put(
        f"{URL}/{visit.pk}/plan", sent(crew, overrides={"luck": "x"}), headers=based_on(1)
    )
    assert (answer.status_code, list(answer.data["fields"])) == (400, ["overrides"])


def test_visits_are_listed_by_day_person_job_and_state(van_api, crew, technician):
    mine = make.planned(by_crew=crew, starts_at=make.at(9, day=LATER))
    same_job = Visit.objects.get(job=mine.job, name="Rough-in")
    Visit.objects.filter(pk=same_job.pk).update(crew=crew)
    make.planned(starts_at=make.at(9, day=LATER))

    def found(**asked) -> set[str]:
        return {row["id"] for row in van_api.get(URL, asked).data["results"]}

    assert found() == {str(mine.pk), str(same_job.pk)}
    assert found(on=LATER.isoformat()) == {str(mine.pk)}
    assert found(on="2026-11-30") == set()
    assert found(mine="1") == {str(mine.pk)}
    assert found(job=str(mine.job_id), state="unplanned") == {str(same_job.pk)}
    assert van_api.get(URL, {"on": "x"}).status_code == 400


def test_a_visit_is_added_once_and_changed_by_revision(desk_api):
    job, key = make.job(), str(uuid.uuid4())
    url, new = f"/api/v1/jobs/{job.pk}/visits", {"id": key, "name": "Patching"}
    assert [desk_api.post(url, new).status_code for _ in range(2)] == [201, 200]
    changed = desk_api.patch(f"{URL}/{key}", {"people_needed": 3}, headers=based_on(1))
    assert (changed.data["people_needed"], changed.data["name"]) == (3, "Patching")


def test_a_promise_is_made_and_taken_back(desk_api):
    visit = make.visit()
    url = f"{URL}/{visit.pk}/promise"
    window = {"promised_from": make.at(8).isoformat(), "promised_until": make.at(10).isoformat()}
    made = desk_api.put(url, window, headers=based_on(visit.rev))
    assert made.data["promised_from"] is not None
    back = {"promised_from": None, "promised_until": None}
    assert desk_api.put(url, back, headers={"If-Match": made["ETag"]}).data["promised_from"] is None


def test_a_hold_is_released_and_taken_back(desk_api, office):
    hold = make.visit("Rough-in", free=False).holds.get(kind="material")
    url = f"/api/v1/holds/{hold.pk}/released"
    released = desk_api.put(url, {"reason": "counted"})
    assert (released.data["released_by"], released.data["reason"]) == (str(office.pk), "counted")
    assert desk_api.delete(url).data["released_at"] is None


def test_a_technician_reads_but_does_not_plan(van_api, crew):
    visit = make.planned(by_crew=crew)
    read = van_api.get(f"{URL}/{visit.pk}")
    assert (read.status_code, read["ETag"]) == (200, f'"{visit.rev}"')
    for method, url in (("put", "plan"), ("delete", "plan"), ("put", "promise")):
        answer = getattr(van_api, method)(f"{URL}/{visit.pk}/{url}", headers=based_on(visit.rev))
        assert answer.status_code == 403
    assert van_api.get(f"{URL}/{make.visit().pk}").status_code == 404
    assert Visit.objects.get(pk=visit.pk).state == VisitState.PLANNED
