"""The office's, the owner's and the crew's pages: who may see them, and what they show."""

from __future__ import annotations

import datetime as dt
import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils.html import strip_tags
from PIL import Image

from contractor.services.pictures import store_picture
from followups.cadence.words import State
from followups.models import Callback, Message, Reply, Thanks
from followups.queries import unread_thanks
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db

NOW = made.WEEK_LATER + dt.timedelta(hours=3)


@pytest.fixture(autouse=True)
def _firm(time_machine, settings, tmp_path) -> None:
    time_machine.move_to(NOW, tick=False)
    settings.MEDIA_ROOT = tmp_path
    planned.firm()


def signed_in(person) -> Client:  # type: ignore[no-untyped-def]
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def office() -> Client:
    return signed_in(planned.coordinator())


def opened() -> Callback:
    check_in = made.sent_check_in(planned.person("Ana"))
    made.answered(check_in, "wrong", "The kitchen hums.")
    return Callback.objects.latest("opened_at")


OFFICE_PAGES = [
    ("callbacks", ()), ("callback-new", ()), ("callback", ("callback",)),
    ("callback-book", ("callback",)), ("callback-close", ("callback",)),
    ("callback-reopen", ("callback",)), ("replies", ()), ("reply", ("reply",)),
    ("reply-waiting", ("reply",)), ("reply-pass-on", ("reply",)), ("messages", ()),
    ("message", ("message",)), ("message-act", ("message", "told")), ("watch", ()),
    ("job-praise", ("job",)),
]  # fmt: skip


@pytest.mark.parametrize(("name", "rows"), OFFICE_PAGES)
def test_office_pages_are_closed_to_technicians_and_to_strangers(
    name: str, rows: tuple[str, ...]
) -> None:
    callback = opened()
    ids = {
        "callback": callback.pk,
        "reply": callback.reply_id,
        "message": Message.objects.first().pk,
        "job": callback.job_id,
    }
    address = reverse(name, args=[ids.get(row, row) for row in rows])
    own = signed_in(callback.job.visits.get(state="done").assignments.first().person)
    for method in ("get", "post"):
        assert getattr(own, method)(address).status_code == 403
        stranger = getattr(Client(), method)(address)
        assert stranger.status_code == 302
        assert "/sign-in" in stranger["Location"] or "next=" in stranger["Location"]
    office = signed_in(planned.coordinator())
    query = {"job": callback.job_id} if name == "callback-new" else {}
    assert office.get(address, query).status_code in (200, 405)


def test_a_customers_picture_is_seen_by_those_on_the_site_and_nobody_else() -> None:
    drawn = io.BytesIO()
    Image.new("RGB", (900, 600), "orange").save(drawn, "JPEG")
    picture = store_picture(SimpleUploadedFile("a.jpg", drawn.getvalue()))
    ana = planned.person("Ana")
    reply = made.answered(made.sent_check_in(ana), "wrong", "Look.", photos=[picture])
    address = reverse("reply-photo", args=[reply.photos.get().pk])
    for person, status in (
        (ana, 200), (planned.coordinator(), 200), (planned.owner(), 200), (planned.person(), 404),
    ):  # fmt: skip
        assert signed_in(person).get(address).status_code == status
    assert Client().get(address).status_code == 302
    shown = signed_in(ana).get(address, {"small": ""})
    assert shown["Content-Type"] == "image/jpeg"
    assert Image.open(io.BytesIO(shown.content)).size == (480, 320)


def test_a_callback_from_the_list_to_closed_and_back(office) -> None:
    callback = opened()
    page = office.get(reverse("callbacks")).content.decode()
    for words in ("The kitchen hums.", callback.job.site.street, callback.crew.name):
        assert words in page
    one = reverse("callback", args=[callback.pk])
    office.post(one, {"cause": "loose", "note": "Try Tuesday.", "rev": callback.rev})
    callback.refresh_from_db()
    assert (callback.cause, callback.note) == ("loose", "Try Tuesday.")
    booked = office.post(reverse("callback-book", args=[callback.pk]), {"title": "Humming"})
    callback.refresh_from_db()
    assert booked["Location"] == reverse("job", args=[callback.booked_as_id])
    close = reverse("callback-close", args=[callback.pk])
    assert "is still open. Cancel it there" in office.get(close).content.decode()
    assert "required" in office.post(close, {"cause": "", "resolution": ""}).content.decode()
    done = office.post(close, {"cause": "loose", "resolution": "Tightened."}, follow=True)
    assert reverse("callback-reopen", args=[callback.pk]) in done.content.decode()  # undo
    office.post(reverse("callback-reopen", args=[callback.pk]))
    callback.refresh_from_db()
    assert callback.state == "booked"


def test_a_note_based_on_an_older_page_comes_back_beside_what_was_noted_meanwhile(office) -> None:
    callback = opened()
    one = reverse("callback", args=[callback.pk])
    office.post(one, {"note": "First.", "rev": callback.rev})
    again = office.post(one, {"note": "Second.", "rev": callback.rev})
    words = again.content.decode()
    assert again.status_code == 422
    assert "Someone else changed this" in words
    assert "First." in words
    assert "Second." in words
    callback.refresh_from_db()
    assert callback.note == "First."
    office.post(one, {"note": "First. Second.", "rev": callback.rev})
    callback.refresh_from_db()
    assert callback.note == "First. Second."


def test_a_callback_that_came_by_telephone(office) -> None:
    job = planned.job()
    address = f"{reverse('callback-new')}?job={job.pk}"
    assert job.title in office.get(address).content.decode()
    office.post(address, {"what": "Half the house is dark."})
    assert Callback.objects.get().job == job
    assert office.get(reverse("callback-new"), {"job": "nonsense"}).status_code == 404


def test_a_question_is_answered_and_that_can_be_taken_back(office) -> None:
    reply = made.answered(made.sent_check_in(planned.person("Ana")), "question", "What is 14?")
    page = office.get(reverse("replies")).content.decode()
    assert "What is 14?" in page
    one = reverse("reply", args=[reply.pk])
    assert f"mailto:{reply.job.site.customer.email}" in office.get(one).content.decode()
    office.post(one, {"words": "Sump pump, told her by phone."})
    reply.refresh_from_db()
    assert reply.handled_how == "Sump pump, told her by phone."
    assert "What is 14?" not in office.get(reverse("replies")).content.decode()
    office.post(reverse("reply-waiting", args=[reply.pk]))
    assert "What is 14?" in office.get(reverse("replies")).content.decode()
    office.post(reverse("reply-pass-on", args=[reply.pk]))
    assert Thanks.objects.get().person.name == "Ana"


@pytest.mark.parametrize(
    ("state", "act", "words", "then"),
    [
        (State.DUE, "hold", {}, State.HELD),
        (State.HELD, "release", {}, State.DUE),
        (State.UNSURE, "told", {"words": "By phone"}, State.SENT),
        (State.UNSURE, "again", {}, State.DUE),
        (State.UNSURE, "drop", {"words": "Spoke to her"}, State.SKIPPED),
        (State.FAILED, "send", {}, State.DUE),
        (State.EXPIRED, "told", {"words": "By phone"}, State.SENT),
    ],
)
def test_the_office_decides_on_a_message(office, state, act, words, then) -> None:
    message = made.message(made.closed_job(closed_at=NOW))
    Message.objects.filter(pk=message.pk).update(state=state)
    page = office.get(reverse("message", args=[message.pk])).content.decode()
    address = reverse("message-act", args=[message.pk, act])
    assert address in page
    assert office.get(address).status_code == 200  # asks first
    office.post(address, words)
    message.refresh_from_db()
    assert message.state == then


def test_the_messages_page_counts_and_shows_what_needs_a_person(office) -> None:
    message = made.message(made.closed_job())
    Message.objects.filter(pk=message.pk).update(state=State.UNSURE, why="The line broke.")
    page = office.get(reverse("messages")).content.decode()
    assert "The line broke." in page
    assert message.subject in page
    for state in State:
        assert office.get(reverse("messages"), {"state": state}).status_code == 200
    assert office.get(reverse("message-act", args=[message.pk, "burn"])).status_code == 404


def test_a_technician_reads_the_praise_and_marks_it_read() -> None:
    ana = planned.person("Ana")
    made.answered(made.sent_check_in(ana), "well", "So tidy.")
    made.answered(made.sent_check_in(planned.person("Ben")), "well", "For Ben.")
    client = signed_in(ana)
    assert unread_thanks(ana) == 1
    page = client.get(reverse("thanks")).content.decode()
    assert "So tidy." in page
    assert "For Ben." not in page
    assert "new" in page
    client.post(reverse("thanks-read"))
    assert unread_thanks(ana) == 0
    owner = signed_in(planned.owner()).get(reverse("thanks")).content.decode()
    assert "So tidy." in owner
    assert "For Ben." in owner


LISTS = (
    "callbacks", "replies", "silent", "messages", "unplanned", "inspections_due",
    "inspections_overdue", "inspections_failed", "permits",
)  # fmt: skip


def test_the_owner_sees_numbers_that_open_their_lists() -> None:
    owner = signed_in(planned.owner())
    callback = opened()
    made.sent_check_in()
    made.answered(made.sent_check_in(planned.person("Ben")), "well", "Best crew in Ohio.")
    page = owner.get(reverse("watch"))
    numbers = page.context["numbers"]
    assert (numbers.callbacks, numbers.unanswered, numbers.questions) == (1, 1, 0)
    text = page.content.decode()
    assert "Best crew in Ohio." in text
    assert callback.job.kind.name in text
    assert "too few to tell" in text
    read = " ".join(strip_tags(text).split())
    assert "1 callback open" in read
    assert "0 questions waiting" in read
    for name in LISTS:
        assert owner.get(page.context[f"{name}_url"]).status_code == 200, name


def test_the_visits_without_a_crew_are_those_the_week_lists() -> None:
    owner = signed_in(planned.owner())
    planned.job()  # several visits, of which the next one is to be planned
    planned.job(title="Another")
    watch = owner.get(reverse("watch"))
    assert watch.context["numbers"].unplanned == 2
    listed = owner.get(watch.context["unplanned_url"].partition("#")[0])
    assert listed.context["page"].paginator.count == 2


@pytest.mark.parametrize("name", ["watch", "callbacks", "replies", "messages", "thanks"])
def test_the_number_of_queries_does_not_grow_with_the_rows(name: str) -> None:
    owner = signed_in(planned.owner())

    def fill(times: int) -> None:
        for number in range(times):
            check_in = made.sent_check_in(planned.person())
            made.answered(check_in, ("wrong", "question", "well")[number % 3], f"Words {number}.")

    counts = []
    for times in (3, 9):
        fill(times)
        with CaptureQueriesContext(connection) as asked:
            assert owner.get(reverse(name), {"show": "all"}).status_code == 200
        counts.append(len(asked))
    assert counts[0] == counts[1]
    assert counts[0] <= {"watch": 30}.get(name, 14)


def test_the_pages_work_before_anything_has_happened() -> None:
    owner = signed_in(planned.owner())
    for name in ("watch", "callbacks", "replies", "messages", "thanks"):
        assert owner.get(reverse(name)).status_code == 200
    assert not Reply.objects.exists()


@pytest.mark.parametrize("odd", ["²", "9" * 30, "9" * 5000, "\0", "-1", "nonsense"])
def test_a_list_narrowed_to_nonsense_is_empty_and_a_note_based_on_it_is_not_kept(
    office, odd: str
) -> None:
    callback = opened()
    for name in ("kind", "cause"):
        page = office.get(reverse("callbacks"), {name: odd})
        assert page.status_code == 200
        assert callback.what not in page.content.decode()
    office.post(reverse("callback", args=[callback.pk]), {"note": "Lost?", "rev": odd})
    callback.refresh_from_db()
    assert callback.note == ""
