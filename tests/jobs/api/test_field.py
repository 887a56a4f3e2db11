"""The field over the API: arriving, answering, photos, signing, closing; sent twice, done once."""

import io
import uuid

import pytest
import time_machine
from PIL import Image

from contractor.models import Crew
from jobs.models import CloseOut, CloseOutLine, Photo, Signature, Visit
from jobs.planning.words import CloseOutKind, HoldKind
from jobs.services import holds
from panels.models import Reading
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.jobs.conftest import phone_of

pytestmark = pytest.mark.django_db
API = "/api/v1"


@pytest.fixture(autouse=True)
def _monday(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    with time_machine.travel(make.at(8, 5), tick=False):
        yield


@pytest.fixture
def visit(technician, crew: Crew) -> Visit:
    return make.planned("Service call", of=make.job(of="Service call"), by_crew=crew)


def on(rev: int) -> dict:
    return {"If-Match": f'"{rev}"'}


def line(visit: Visit, asks: str) -> CloseOutLine:
    return make_field.line(visit.job, asks)


def test_arriving_and_leaving_are_told_once_and_taken_back(van_api, visit):
    here, left = f"{API}/visits/{visit.pk}/arrived", f"{API}/visits/{visit.pk}/left"
    assert van_api.put(here).status_code == 428
    told = van_api.put(here, headers=on(visit.rev))
    assert (told.status_code, told.data["state"]) == (200, "under_way")
    again = van_api.put(here, headers=on(visit.rev))
    assert (again.status_code, again["ETag"]) == (200, told["ETag"])
    gone = van_api.put(left, headers={"If-Match": told["ETag"]})
    assert (gone.data["state"], gone.data["left_at"] is not None) == ("done", True)
    back = van_api.delete(left, headers={"If-Match": gone["ETag"]})
    back = van_api.delete(here, headers={"If-Match": back["ETag"]})
    assert (back.data["state"], back.data["arrived_at"]) == ("planned", None)


def test_every_hold_is_a_reason_of_its_own(van_api, visit):
    for kind in (HoldKind.MATERIAL, HoldKind.CUSTOMER):
        holds.add_hold(visit=visit, kind=kind, by=visit.job.booked_by)
    refused = van_api.put(f"{API}/visits/{visit.pk}/arrived", headers=on(visit.rev))
    assert refused.status_code == 409
    assert refused["Content-Type"] == "application/problem+json"
    assert [row["code"] for row in refused.data["reasons"]] == ["hold", "hold"]


def test_notes_are_put_on_the_revision_they_were_based_on(van_api, visit):
    url = f"{API}/visits/{visit.pk}/notes"
    etag = van_api.get(url)["ETag"]
    kept = van_api.put(url, {"text": "Meter base loose."}, headers={"If-Match": etag})
    assert kept.data == {"text": "Meter base loose."}
    stale = van_api.put(url, {"text": "other"}, headers={"If-Match": etag})
    assert (stale.status_code, stale.data["current_rev"]) == (412, int(kept["ETag"].strip('"')))


def test_the_list_says_what_is_asked_given_and_missing(van_api, visit):
    told = van_api.get(f"{API}/jobs/{visit.job_id}/close-out").data
    assert [row["asks"] for row in told["lines"]] == [
        "text", "voltage", "photo", "directory", "signature",
    ]  # fmt: skip
    assert not any(row["answered"] for row in told["lines"])
    assert [(gap["about"], gap["id"]) for gap in told["missing"]] == [
        ("visit", str(visit.pk)),
        ("line", str(line(visit, "text").pk)),
        ("line", str(line(visit, "signature").pk)),
    ]


def test_a_line_is_answered_on_its_revision(van_api, visit):
    row = line(visit, CloseOutKind.TEXT)
    url = f"{API}/close-out-lines/{row.pk}"
    said = van_api.patch(url, {"note": "Neutral made up."}, headers=on(row.rev))
    assert (said.status_code, said.data["answered"], said.data["note"]) == (
        200, True, "Neutral made up.",
    )  # fmt: skip
    assert van_api.patch(url, {"note": "other"}, headers=on(row.rev)).status_code == 412
    assert van_api.patch(url, {"note": "other"}).status_code == 428
    assert van_api.get(url)["ETag"] == said["ETag"]


@pytest.mark.parametrize("sent", [{}, {"ticked": True, "note": "x"}, {"because": "x"}])
def test_a_line_takes_one_answer_at_a_time(van_api, visit, sent):
    row = line(visit, CloseOutKind.TEXT)
    answer = van_api.patch(f"{API}/close-out-lines/{row.pk}", sent, headers=on(row.rev))
    assert answer.status_code == 400


def test_what_does_not_apply_needs_its_reason(van_api, visit):
    row = line(visit, CloseOutKind.VOLTAGE)
    url = f"{API}/close-out-lines/{row.pk}"
    refused = van_api.patch(url, {"does_not_apply": True}, headers=on(row.rev))
    assert (refused.status_code, list(refused.data["fields"])) == (422, ["because"])
    sent = {"does_not_apply": True, "because": "nothing energised"}
    said = van_api.patch(url, sent, headers=on(row.rev))
    assert (said.data["answered"], said.data["does_not_apply"]) == (True, True)
    back = van_api.patch(url, {"does_not_apply": False}, headers={"If-Match": said["ETag"]})
    assert (back.data["answered"], back.data["done_at"]) == (False, None)


def test_readings_sent_twice_are_recorded_once(van_api, visit):
    panel, row = make_field.house(visit.job), line(visit, CloseOutKind.VOLTAGE)
    sent = {"id": str(uuid.uuid4()), "panel": str(panel.pk), "values": {"A-N": 121.4, "B-N": 121}}
    url = f"{API}/close-out-lines/{row.pk}/readings"
    first = van_api.post(url, sent)
    assert (first.status_code, len(first.data)) == (201, 2)
    again = van_api.post(url, sent)
    assert (again.status_code, again.data) == (200, first.data)
    assert Reading.objects.count() == 2
    other = van_api.post(url, {**sent, "values": {"A-N": 119}})
    assert (other.status_code, other.data["code"]) == (409, "already_there")
    absurd = van_api.post(url, {"panel": str(panel.pk), "values": {"A-N": 12000}})
    assert (absurd.status_code, list(absurd.data["fields"])) == (422, ["A-N"])


def jpeg(colour: str = "teal") -> io.BytesIO:
    written = io.BytesIO()
    Image.new("RGB", (64, 48), colour).save(written, "JPEG")
    written.name = "IMG_1.jpg"
    written.seek(0)
    return written


def test_a_photo_sent_twice_is_kept_once_and_can_be_described_and_taken_out(van_api, visit):
    url, key = f"{API}/visits/{visit.pk}/photos", str(uuid.uuid4())
    row = line(visit, CloseOutKind.PHOTO)

    def send(**more):
        sent = {"id": key, "photo": jpeg(), "line": str(row.pk)} | more
        return van_api.post(url, sent, format="multipart")

    first = send(caption="Cover off")
    assert (first.status_code, first.data["caption"]) == (201, "Cover off")
    assert (send().status_code, Photo.objects.count()) == (200, 1)
    assert send(photo=jpeg("maroon")).status_code == 409
    assert len(van_api.get(url).data["results"]) == 1
    one = f"{API}/photos/{key}"
    picture = van_api.get(f"{one}/picture", {"small": "1"})
    assert Image.open(io.BytesIO(b"".join(picture))).size == (64, 48)
    told = van_api.patch(one, {"line": None}, headers={"If-Match": first["ETag"]})
    assert (told.data["line"], told.data["caption"]) == (None, "Cover off")
    assert van_api.delete(one, headers={"If-Match": first["ETag"]}).status_code == 412
    assert van_api.delete(one, headers={"If-Match": told["ETag"]}).status_code == 204
    assert van_api.get(one).status_code == 404
    assert van_api.put(f"{one}/restored").status_code == 200
    assert van_api.get(one).status_code == 200


@pytest.mark.parametrize("sent", [b"%PDF-1.7", b""])
def test_what_is_no_picture_is_refused_in_words(van_api, visit, sent):
    upload = io.BytesIO(sent)
    upload.name = "photo.jpg"
    url = f"{API}/visits/{visit.pk}/photos"
    refused = van_api.post(url, {"photo": upload}, format="multipart")
    assert refused.status_code in (400, 422)
    assert not Photo.objects.exists()


def test_a_signature_is_put_once_and_replaced_only_knowingly(van_api, visit):
    url = f"{API}/jobs/{visit.job_id}/signature"
    assert van_api.get(url).status_code == 404
    sent = {
        "id": str(uuid.uuid4()), "visit": str(visit.pk), "signed_name": "Maren Holloway",
        "strokes": make_field.STROKES,
    }  # fmt: skip
    first = van_api.put(url, sent)
    assert (first.status_code, first.data["strokes"]["width"]) == (201, 320)
    assert (van_api.put(url, sent).status_code, Signature.objects.count()) == (200, 1)
    other = {"visit": str(visit.pk), "signed_name": "Piet Lindqvist", "by_typed_name": True}
    assert van_api.put(url, other).status_code == 412
    replaced = van_api.put(url, other, headers={"If-Match": first["ETag"]})
    assert (replaced.status_code, replaced.data["signed_name"]) == (200, "Piet Lindqvist")
    assert van_api.delete(url, headers={"If-Match": replaced["ETag"]}).status_code == 204


def test_closing_names_everything_missing_then_closes_once_and_the_office_opens_again(
    van_api, desk_api, visit
):
    url = f"{API}/jobs/{visit.job_id}/close-out"
    refused = van_api.post(url, {})
    assert refused.status_code == 409
    assert [row["code"] for row in refused.data["reasons"]] == ["visit", "line", "line"]
    assert not CloseOut.objects.exists()
    visit = make_field.done(visit)
    panel, by = make_field.house(visit.job), make_field.worker(visit)
    for row in visit.job.close_out.select_related("job"):
        make_field.answer(row, visit=visit, by=by, now=make.at(8, 5), panel=panel)
    sent = {"id": str(uuid.uuid4()), "issue_directories": True, "visit": str(visit.pk)}
    closed = van_api.post(url, sent)
    assert (closed.status_code, closed.data["proved"]["number"]) == (201, visit.job.number)
    assert (van_api.post(url, sent).status_code, CloseOut.objects.count()) == (200, 1)
    assert van_api.post(url, {}).data["code"] == "job_closed"
    assert van_api.get(f"{API}/jobs/{visit.job_id}/proof").data["id"] == closed.data["id"]
    reopened, sent = f"{API}/jobs/{visit.job_id}/reopened", {"because": "Wrong breaker named."}
    visit.job.refresh_from_db()
    assert van_api.put(reopened, sent, headers=on(visit.job.rev)).status_code == 403
    assert desk_api.put(reopened, sent, headers=on(visit.job.rev)).data["state"] == "open"


def test_another_crews_work_is_not_there(visit):
    stranger = phone_of(make.person("Rae Vance"))
    photo = make_field.photos.add_photo(
        visit=visit, upload=make_field.picture(), by=make_field.worker(visit), now=make.at(8)
    )
    row = line(visit, CloseOutKind.TEXT)
    asked = {
        "get": [
            f"jobs/{visit.job_id}/close-out", f"close-out-lines/{row.pk}", f"photos/{photo.pk}",
            f"photos/{photo.pk}/picture", f"visits/{visit.pk}/photos", f"visits/{visit.pk}/notes",
            f"jobs/{visit.job_id}/proof", f"jobs/{visit.job_id}/signature",
        ],
        "put": [
            f"visits/{visit.pk}/arrived", f"visits/{visit.pk}/left", f"photos/{photo.pk}/restored",
        ],
        "post": [f"jobs/{visit.job_id}/close-out"],
        "delete": [f"photos/{photo.pk}"],
    }  # fmt: skip
    for method, urls in asked.items():
        for url in urls:
            answer = getattr(stranger, method)(f"{API}/{url}", headers=on(1))
            assert (url, answer.status_code) == (url, 404)
