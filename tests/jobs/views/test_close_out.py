"""The close-out list answered in place, with script and without; closing; the record."""

import json
import re
import uuid

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs.models import CloseOut, Job, Photo, Signature, Visit
from jobs.planning.words import CloseOutKind, JobState, VisitState
from jobs.services import close_out_list, field
from panels.models import Reading
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.factories.panels import a_circuit
from tests.jobs.conftest import browser_of

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture(autouse=True)
def _monday(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    with time_machine.travel(make.at(9), tick=False):
        yield


@pytest.fixture
def visit(technician, crew) -> Visit:
    visit = make.planned("Service call", of=make.job(of="Service call"), by_crew=crew)
    return field.arrive(visit=visit, by=technician, now=make.at(8))


@pytest.fixture
def panel(visit):
    return make_field.house(visit.job)


def line(visit, asks):
    return make_field.line(visit.job, asks)


def answer(client, row, do: str, *, script: bool = True, **sent):
    row.refresh_from_db()
    sent = {"do": do, "rev": row.rev} | sent
    headers = HTMX if script else {}
    return client.post(reverse("close-out-line", args=[row.pk]), sent, headers=headers)


def shown(answer) -> str:
    return answer.content.decode()


def test_every_line_stands_on_the_list_and_the_first_to_do_is_open(in_van, visit, panel):
    page = shown(in_van.get(reverse("close-out", args=[visit.job_id])))
    for row in visit.job.close_out.all():
        assert f'id="line-{row.pk}"' in page
    assert page.count("<details open>") == 1
    assert page.index("<details open>") > page.index(f'id="line-{line(visit, "text").pk}"')
    assert "Close: 2 things missing" in page


def test_words_are_kept_and_the_next_line_opens(in_van, visit):
    told = shown(answer(in_van, line(visit, "text"), "words", text="Neutral made up again."))
    assert "written" in told
    signing = told.index(f'id="line-{line(visit, "signature").pk}" hx-swap-oob="true"')
    assert "<details open>" in told[signing : signing + 150]
    assert "1 of 2 answered" in told
    assert "Close: 1 thing missing" in told


def test_without_script_the_same_press_leads_back_to_the_list(in_van, visit):
    row = line(visit, "text")
    told = answer(in_van, row, "words", text="Neutral made up again.", script=False)
    assert (told.status_code, told.url) == (302, reverse("close-out", args=[visit.job_id]))
    row.refresh_from_db()
    assert row.note == "Neutral made up again."
    refused = answer(in_van, row, "words", text="", script=False)
    assert refused.status_code == 422
    assert "<html" in shown(refused)


def test_a_stale_answer_keeps_what_was_typed_beside_what_is_on_record(in_van, visit):
    row = line(visit, "text")
    answer(in_van, row, "words", text="Neutral made up again.")
    told = answer(in_van, row, "words", text="Receptacle replaced.", rev=1)
    assert told.status_code == 422
    for words in ("Receptacle replaced.", "Neutral made up again.", "Someone changed this"):
        assert words in shown(told)
    row.refresh_from_db()
    assert row.note == "Neutral made up again."
    assert f'name="rev" value="{row.rev}"' in shown(told)  # pressed again it is meant
    answer(in_van, row, "words", text="Receptacle replaced.")
    row.refresh_from_db()
    assert row.note == "Receptacle replaced."


def test_a_tick_is_set_and_taken_back(in_van, visit):
    row = close_out_list.add_line(
        job=visit.job, label="GFCI tried", asks="check", by=visit.job.booked_by
    )
    assert "Ticked by Ivo Brandt" in shown(answer(in_van, row, "tick"))
    assert "Done, tick it" in shown(answer(in_van, row, "untick"))


def test_voltages_are_recorded_together_judged_and_named_with_their_source(in_van, visit, panel):
    row = line(visit, "voltage")
    sent = {
        "panel": panel.pk, "batch": uuid.uuid4(), "voltage-A-N": "121.4", "voltage-B-N": "131",
        "voltage-instrument": "tester 2",
    }  # fmt: skip
    told = shown(answer(in_van, row, "measure", **sent))
    assert "121.4 V is within 114 to 126 V" in told
    assert "131 V is outside 114 to 126 V" in told
    assert "COMAR 20.50.07.02" in told
    assert "2 readings" in told
    answer(in_van, row, "measure", **sent)  # the phone heard no answer and sent again
    assert Reading.objects.count() == 2
    assert "tester 2" in shown(in_van.get(reverse("close-out-line", args=[row.pk]), headers=HTMX))


def test_a_value_that_cannot_be_is_told_at_its_blank(in_van, visit, panel):
    row = line(visit, "voltage")
    told = answer(in_van, row, "measure", panel=panel.pk, **{"voltage-A-N": "12140"})
    assert told.status_code == 422
    assert "12140 V cannot be right" in shown(told)
    assert 'value="12140"' in shown(told)
    assert not Reading.objects.exists()


def test_a_reading_struck_out_comes_back_by_undo(in_van, visit, panel):
    row = line(visit, "voltage")
    answer(in_van, row, "measure", panel=panel.pk, **{"voltage-A-N": "121.4"})
    reading = Reading.objects.get()
    told = shown(answer(in_van, row, "strike", reading=reading.pk))
    assert not Reading.objects.exists()
    undo = re.search(r'action="(/close-out/lines/[^"]+/put-back/[^"]+)"', told)[1]
    back = in_van.post(undo)
    assert back.status_code == 302
    assert Reading.objects.get().pk == reading.pk
    assert in_van.post(f"{undo[:-9]}x/").status_code == 404


def test_without_a_panel_a_reading_has_no_place_yet(in_van, visit):
    told = shown(
        in_van.get(reverse("close-out-line", args=[line(visit, "voltage").pk]), headers=HTMX)
    )
    assert "No panel is recorded here yet" in told
    assert reverse("panel-add", args=[visit.job.site_id]) in told


def test_another_sites_panel_is_not_there(in_van, visit, panel):
    other = make_field.a_panel()
    told = answer(in_van, line(visit, "voltage"), "measure", panel=other.pk, **{"voltage-A-N": 121})
    assert told.status_code == 404


def test_it_does_not_apply_with_a_reason_and_applies_after_all(in_van, visit):
    row = line(visit, "voltage")
    assert "This field is required" in shown(answer(in_van, row, "why_not", because=""))
    told = shown(answer(in_van, row, "why_not", because="Nothing energised yet."))
    assert "does not apply" in told
    assert "Nothing energised yet." in told
    assert "may be left out" in shown(answer(in_van, row, "applies"))


def test_directories_are_issued_from_the_line(in_van, visit, panel):
    row = line(visit, CloseOutKind.DIRECTORY)
    told = shown(answer(in_van, row, "issue", panel=panel.pk))
    assert "directory revision 1 is issued" in told
    assert "as recorded" in told
    a_circuit(panel, 3, name="Sump pump")
    assert "changed since" in shown(
        in_van.get(reverse("close-out-line", args=[row.pk]), headers=HTMX)
    )


def test_a_signature_is_drawn_shown_as_ink_and_taken_back(in_van, visit):
    row = line(visit, CloseOutKind.SIGNATURE)
    drawn = {"signed_name": "Maren Holloway", "strokes": json.dumps(make_field.STROKES)}
    told = shown(answer(in_van, row, "sign", rev="", signature_id=uuid.uuid4(), **drawn))
    assert '<path d="M20 90' in told
    signature = Signature.objects.get()
    told = shown(answer(in_van, row, "unsign", rev=signature.rev))
    assert "Name of the person signing" in told
    assert not Signature.objects.exists()


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        ({"signed_name": "", "strokes": ""}, "This field is required"),
        ({"signed_name": "Maren Holloway"}, "Sign on the line, or tick that the typed name counts"),
        ({"signed_name": "Maren Holloway", "strokes": "{"}, "The drawing arrived damaged"),
        ({"signed_name": "Maren Holloway", "strokes": "[" * 5000}, "The drawing arrived damaged"),
    ],
)
def test_half_a_signature_comes_back_with_what_was_typed(in_van, visit, sent, words):
    told = answer(in_van, line(visit, CloseOutKind.SIGNATURE), "sign", rev="", **sent)
    assert told.status_code == 422
    assert words in shown(told)
    assert sent["signed_name"] in shown(told)


def test_a_typed_name_and_an_absent_customer_are_kept_as_such(in_van, visit):
    row = line(visit, CloseOutKind.SIGNATURE)
    told = shown(answer(in_van, row, "sign", rev="", signed_name="Piet Lind", by_typed_name="on"))
    assert "signed by typed name, without a drawing" in told
    answer(in_van, row, "unsign", rev=Signature.objects.get().rev)
    told = shown(answer(in_van, row, "absent", rev="", absent_reason="Tenant at work."))
    assert "Nobody could sign: Tenant at work." in told


def test_an_unknown_press_and_another_crews_line_are_not_there(in_van, visit):
    row = line(visit, "text")
    assert answer(in_van, row, "burn").status_code == 404
    stranger = browser_of(make.person("Rae Vance"))
    assert answer(stranger, row, "words", text="x").status_code == 404
    for name in ("close-out", "close-out-close", "close-out-record"):
        assert stranger.get(reverse(name, args=[visit.job_id])).status_code == 404


def answered(visit, panel):
    by = make_field.worker(visit)
    for row in visit.job.close_out.select_related("job"):
        make_field.answer(row, visit=visit, by=by, now=make.at(9), panel=panel)


def test_what_is_missing_is_listed_before_closing_and_refused_when_closing(in_van, visit):
    url = reverse("close-out-close", args=[visit.job_id])
    page = shown(in_van.get(url))
    assert "2 things are missing" in page
    assert f"#line-{line(visit, 'text').pk}" in page
    refused = in_van.post(url, {"rev": visit.job.rev})
    assert refused.status_code == 409
    assert "nobody has signed" in shown(refused)
    assert not CloseOut.objects.exists()
    visit.refresh_from_db()
    assert visit.state == VisitState.UNDER_WAY


def test_closing_issues_what_changed_ends_the_visit_and_shows_the_record(in_van, visit, panel):
    answered(visit, panel)
    Job.objects.filter(pk=visit.job_id).update(booked_at=make.at(8).replace(year=2000))
    url = reverse("close-out-close", args=[visit.job_id])
    page = shown(in_van.get(url))
    assert "It also says that you are leaving: Service call is then done." in page
    assert "Issue these directories now" in page
    visit.job.refresh_from_db()
    sent = {"rev": visit.job.rev, "close_out_id": uuid.uuid4()}
    assert "has no directory yet" in shown(in_van.post(url, sent))
    record = in_van.post(url, sent | {"issue_directories": "on"}, follow=True)
    assert record.redirect_chain == [(reverse("close-out-record", args=[visit.job_id]), 302)]
    for words in ("Job", "Maren Holloway", "COMAR", "revision 1", "Loose neutral", "Ivo Brandt"):
        assert words in shown(record), words
    visit.refresh_from_db()
    assert (visit.state, visit.left_at) == (VisitState.DONE, make.at(9))
    again = in_van.post(url, sent | {"issue_directories": "on"})
    assert again.url == reverse("close-out-record", args=[visit.job_id])
    assert CloseOut.objects.count() == 1


def test_a_closed_job_can_be_read_but_not_answered(in_van, visit, panel):
    answered(visit, panel)
    make_field.close_job(
        job=visit.job, visit=visit, by=make_field.worker(visit), now=make.at(9),
        issue_directories=True,
    )  # fmt: skip
    page = shown(in_van.get(reverse("close-out", args=[visit.job_id])))
    assert "What was proved stays as it was" in page
    assert "<textarea" not in page
    assert "photo-form" not in page
    told = answer(in_van, line(visit, "text"), "words", text="later")
    assert "is closed, so its record stays as it is" in shown(told)


def test_the_office_opens_it_again_and_the_record_says_so(in_van, at_desk, visit, panel):
    answered(visit, panel)
    who = {"by": make_field.worker(visit), "now": make.at(9)}
    make_field.close_job(job=visit.job, visit=visit, issue_directories=True, **who)
    url = reverse("close-out-reopen", args=[visit.job_id])
    assert in_van.get(url).status_code == 403
    assert "Open job" in shown(at_desk.get(url))
    assert at_desk.post(url, {"because": ""}).status_code == 422
    assert at_desk.post(url, {"because": "Wrong breaker named."}).status_code == 302
    visit.job.refresh_from_db()
    assert visit.job.state == JobState.OPEN
    record = shown(at_desk.get(reverse("close-out-record", args=[visit.job_id])))
    assert "Wrong breaker named." in record


def test_a_long_list_asks_the_database_no_more(in_van, visit, panel):
    url = reverse("close-out", args=[visit.job_id])

    def asked() -> int:
        with CaptureQueriesContext(connection) as found:
            assert in_van.get(url).status_code == 200
        return len(found)

    answered(visit, panel)
    asked()
    one = asked()
    who = {"by": make_field.worker(visit), "now": make.at(9)}
    for asks in ("voltage", "insulation", "torque", "photo", "check", "text", "voltage"):
        row = close_out_list.add_line(
            job=visit.job, label=f"More {asks}", asks=asks, by=visit.job.booked_by
        )
        make_field.answer(row, visit=visit, panel=panel, **who)
    assert asked() == one
    assert one < 45, one


def send(client, visit, *uploads, **sent):
    sent = {"photo": list(uploads), **sent}
    return client.post(reverse("photo-add", args=[visit.pk]), sent)


def test_several_photos_go_at_once_and_twice_sent_are_kept_once(in_van, visit):
    sent = {"batch": uuid.uuid4(), "line": line(visit, "photo").pk}
    for _time in range(2):
        told = send(in_van, visit, make_field.picture(), make_field.picture("maroon"), **sent)
        assert told.status_code == 302
    assert Photo.objects.count() == 2
    assert "2 photos" in shown(in_van.get(reverse("close-out", args=[visit.job_id])))


def test_the_uploader_gets_the_photo_or_the_sentence(in_van, visit):
    by_script = {"X-Requested-With": "photos"}
    url, key = reverse("photo-add", args=[visit.pk]), str(uuid.uuid4())
    for _time in range(2):
        sent = {"id": key, "photo": make_field.picture()}
        told = in_van.post(url, sent, headers=by_script)
        assert (told.status_code, f'id="photo-{key}"' in shown(told)) == (201, True)
    bad = make_field.ContentFile(b"%PDF-1.7", name="photo.jpg")
    told = in_van.post(url, {"id": str(uuid.uuid4()), "photo": bad}, headers=by_script)
    assert (told.status_code, shown(told)) == (
        422, "This is not a picture we can read. Use JPEG, PNG or WebP.",
    )  # fmt: skip
    assert Photo.objects.count() == 1


def test_a_photo_is_seen_by_those_who_see_the_job_and_by_nobody_else(in_van, visit, crew):
    send(in_van, visit, make_field.picture())
    photo = Photo.objects.get()
    later = make.planned(
        "Second look",
        of=_with_second(visit),
        by_crew=make.crew(make.person("Cy Abara")),
        starts_at=make.at(13),
    )
    mate, stranger = make_field.worker(later), make.person("Rae Vance")
    for name in ("photo", "photo-small", "photo-about"):
        url = reverse(name, args=[photo.pk])
        for client in (in_van, browser_of(mate), browser_of(make.owner())):
            assert client.get(url).status_code == 200
        assert browser_of(stranger).get(url).status_code == 404
    for name in ("photo-remove", "photo-restore"):
        assert browser_of(stranger).post(reverse(name, args=[photo.pk])).status_code == 404


def _with_second(visit) -> Job:
    make.services.add_visit(job=visit.job, name="Second look", by=visit.job.booked_by)
    return visit.job


def test_a_photo_is_described_taken_out_and_put_back(in_van, visit):
    send(in_van, visit, make_field.picture())
    photo, row = Photo.objects.get(), line(visit, "photo")
    about = reverse("photo-about", args=[photo.pk])
    sent = {"rev": photo.rev, "caption": "Cover off", "line": row.pk, "panel": ""}
    assert in_van.post(about, sent).status_code == 302
    photo.refresh_from_db()
    assert (photo.caption, photo.line) == ("Cover off", row)
    stale = in_van.post(about, sent | {"caption": "Labels"})
    assert stale.status_code == 422
    assert "Labels" in shown(stale)
    gone = in_van.post(reverse("photo-remove", args=[photo.pk]), follow=True)
    assert reverse("photo-restore", args=[photo.pk]) in shown(gone)
    assert in_van.get(about).status_code == 404
    in_van.post(reverse("photo-restore", args=[photo.pk]))
    assert in_van.get(about).status_code == 200
