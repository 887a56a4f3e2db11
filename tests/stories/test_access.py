"""Does anyone get at what is not theirs? Every address, each role, own rows and other people's.

That each page names its right and is closed without it is asked in tests/contractor/test_access.py;
here the rows are real. A row that is not theirs answers exactly as one that does not exist.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
import time_machine
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import URLPattern

from contractor.access import RIGHTS
from contractor.models import Device, Person
from tests.contractor.test_access import CALLS, OPEN, PAGES, by_link
from tests.factories import contractor, jobs
from tests.stories.worlds import World, make, nowhere

pytestmark = pytest.mark.django_db
Route = tuple[str, URLPattern]
METHODS = ("get", "post", "put", "patch", "delete")
# Pages about a row whose own world answers "not here", each with the reason.
NOT_HERE_EITHER = {
    "load-restore": "the load is on the list",
    "api-shop": "the site is on record as a home",
    "photo-restore": "the photo stands",
    "reading-put-back": "only after a reading was struck, with what was struck in the address",
    "balance-back": "only after moves were made, with them in the address",
    "circuit-undo": "only by POST, and its answer depends on the history",
    "api-job-proof": "the job is not closed yet",
    "api-outage": "no source is recorded there that could feed anything",
}
# Leads back to one's own account, whether or not someone has such a device.
LEADS_BACK = {"device-revoke"}


@pytest.fixture(autouse=True)
def _one_moment() -> Iterator[None]:
    """Pages print the time; two answers must not differ for that."""
    with time_machine.travel(jobs.NOW, tick=False):
        yield


class Undone(Exception):
    """Takes back what a request has written."""


def ask(client: Client, method: str, url: str) -> HttpResponse:
    """One request whose writing does not last."""
    answers: list[HttpResponse] = []
    try:
        with transaction.atomic():
            answer = getattr(client, method)(url)
            if answer.streaming:
                list(answer.streaming_content)
            answers.append(answer)
            raise Undone
    except Undone:
        client.cookies.pop("messages", None)  # the next page would repeat what was said
        return answers[0]


def page_client(person: Person | None) -> Client:
    client = Client(raise_request_exception=False)
    if person is not None:
        client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


def call_client(person: Person) -> Client:
    _device, token = Device.objects.create(user=person, name="tablet")
    client = Client(raise_request_exception=False)
    client.defaults["HTTP_AUTHORIZATION"] = f"Token {token}"
    client.defaults["CONTENT_TYPE"] = "application/json"
    return client


@pytest.fixture
def mine(technician_person: Person) -> World:
    return make("1 Mine Row", "Mina Mineworthy", [technician_person])


@pytest.fixture
def theirs(mine: World) -> World:
    return make("2 Other Row", "Otto Otherly", [jobs.person("Ivo Larch")])


@pytest.fixture
def technician_person(db: None) -> Person:
    contractor.FirmFactory()
    person: Person = jobs.person("Rhys Okafor")
    return person


def behind_sign_in() -> Iterator[Route]:
    return ((path, view) for path, view in PAGES if view.name not in OPEN and not by_link(view))


ABOUT_A_ROW = [(path, view) for path, view in behind_sign_in() if "<" in path]
CALLS_ABOUT_A_ROW = [(path, view) for path, view in CALLS if "<" in path]


def same(one: HttpResponse, other: HttpResponse) -> bool:
    return one.status_code == other.status_code and stripped(one) == stripped(other)


def stripped(answer: HttpResponse) -> bytes:
    """What it says, without what differs from one request to the next."""
    if answer.streaming:
        return b"streamed"
    said = answer.content.replace(answer.request["PATH_INFO"].encode(), b"here")
    return re.sub(rb'(csrf-token" content|csrfmiddlewaretoken" value)="\w+"', b"", said)


def test_every_address_can_be_asked_about_a_row(mine: World) -> None:
    """A new address that this test cannot fill fails here: tell tests/stories/worlds.py of it."""
    unknown = []
    for path, _view in [*PAGES, *CALLS]:
        try:
            mine.fill(path)
        except KeyError as missing:
            unknown.append(f"{path}: {missing}")
    assert unknown == []


def test_a_stranger_gets_at_nothing(mine: World) -> None:
    client = page_client(None)
    for path, _view in behind_sign_in():
        answer = ask(client, "get", mine.fill(path))
        assert (answer.status_code, answer.url.split("?")[0]) == (302, "/sign-in/"), path
    for path, view in CALLS:
        if view.name not in OPEN:
            assert ask(client, "get", mine.fill(path)).status_code in (401, 405), path


def test_a_technician_reaches_own_rows_and_no_others(
    mine: World, theirs: World, technician_person: Person
) -> None:
    client = page_client(technician_person)
    for path, view in ABOUT_A_ROW:
        role_may = technician_person.role in RIGHTS[view.callback.right]
        reached = set()
        for method in ("get", "post"):
            own = ask(client, method, mine.fill(path)).status_code
            other = ask(client, method, theirs.fill(path))
            if own == 405:
                continue
            if not role_may:
                assert {own, other.status_code} == {403}, f"{method} {path}"
                continue
            told = 302 if view.name in LEADS_BACK else 404
            assert other.status_code == told, f"{method} {path}: {other.status_code}"
            assert same(other, ask(client, method, nowhere(path))), f"{method} {path}"
            assert own < 500, f"{method} {path}"
            reached.add(own)
        assert not role_may or reached - {404} or view.name in NOT_HERE_EITHER, path


def test_a_technicians_device_reaches_own_rows_and_no_others(
    mine: World, theirs: World, technician_person: Person
) -> None:
    client = call_client(technician_person)
    reached = 0
    for path, _view in CALLS_ABOUT_A_ROW:
        for method in METHODS:
            other = ask(client, method, theirs.fill(path))
            nothing = ask(client, method, nowhere(path))
            assert other.status_code >= 400, f"{method} {path}: {other.status_code}"
            assert same(other, nothing), f"{method} {path}: {other.content!r}"
            own = ask(client, method, mine.fill(path))
            assert own.status_code < 500, f"{method} {path}"
            reached += own.status_code not in (403, 404, 405)
    assert reached > len(CALLS_ABOUT_A_ROW) / 2


@pytest.mark.parametrize("role", [contractor.CoordinatorFactory, contractor.OwnerFactory])
def test_the_office_reaches_everything_its_role_allows(mine: World, theirs: World, role) -> None:
    person = role()
    pages, calls = page_client(person), call_client(person)
    for path, view in ABOUT_A_ROW:
        answer = ask(pages, "get", theirs.fill(path))
        if person.role not in RIGHTS[view.callback.right]:
            assert answer.status_code in (403, 405), path
        elif view.name not in NOT_HERE_EITHER:
            assert answer.status_code not in (403, 404), f"{path}: {answer.status_code}"
            assert answer.status_code < 500, path
    for path, view in CALLS_ABOUT_A_ROW:
        answer = ask(calls, "get", theirs.fill(path))
        assert answer.status_code in (200, 405) or view.name in NOT_HERE_EITHER, path


def test_no_list_of_a_technician_names_another_crews_customer(
    mine: World, theirs: World, technician_person: Person
) -> None:
    pages, calls = page_client(technician_person), call_client(technician_person)
    named = 0
    for routes, client in ((list(behind_sign_in()), pages), (CALLS, calls)):
        for path, _view in routes:
            if "<" in path:
                continue
            for asked in (f"/{path}", f"/{path}?q=Otto&on=2026-11-30&from=2026-11-30"):
                answer = ask(client, "get", asked)
                said = b"" if answer.streaming else answer.content
                assert answer.status_code < 500, asked
                assert not [one for one in theirs.marks if one.encode() in said], asked
                named += any(one.encode() in said for one in mine.marks)
    assert named > 8  # the lists are not silent: they tell of the technician's own


def test_a_customers_link_opens_what_it_was_made_for_and_nothing_else(
    mine: World, theirs: World
) -> None:
    client = page_client(None)
    door, answer = mine.about["home"], mine.about["answer"]
    page = ask(client, "get", f"/home/{door}/")
    assert page.status_code == 200
    said = page.content.decode() + ask(client, "get", f"/answer/{answer}/").content.decode()
    assert "1 Mine Row" in said
    assert not [one for one in theirs.marks if one in said]
    for url in (
        f"/home/{answer}/", f"/answer/{door}/", f"/stop/{door}/", f"/home/{door[:-2]}xx/",
        f"/home/{door.partition('.')[0]}.{theirs.about['home'].partition('.')[2]}/",
        f"/photos/{mine.about['photos']}/", f"/directories/{mine.about['directories']}/letter.pdf",
        f"/replies/photos/{mine.about['replies/photos']}/",
    ):  # fmt: skip
        refused = ask(client, "get", url)
        assert refused.status_code in (302, 404, 410), url
        assert "1 Mine Row" not in refused.content.decode(), url
