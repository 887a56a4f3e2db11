"""Does every address say who may use it, and is that so for each role?"""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from django.urls.converters import get_converters
from rest_framework.test import APIClient

from contractor import access
from contractor.access import RIGHTS, Right, may, may_change_person
from contractor.models import Person, Role, Site
from tests.factories.contractor import (
    CoordinatorFactory,
    OwnerFactory,
    SiteFactory,
    TechnicianFactory,
)

# What needs no sign-in, and why. A new one is added here on purpose or not at all.
OPEN = {
    "begin": "only while there is nobody",
    "sign-in": "the door",
    "sign-in-code": "the door's second step",
    "sign-out": "the way out",
    "password-forgotten": "the door, for who lost the key",
    "password-sent": "says the same to everybody",
    "password-set": "by mailed link",
    "light": "a cookie for reading in sunlight",
    "look": "only while developing",
    "stop": "by the link at the foot of a mail",
    "api-token": "a device's door",
    "api-document": "holds no row",
}


def routes(patterns: Any = None, prefix: str = "") -> Iterator[tuple[str, URLPattern]]:
    for pattern in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(pattern, URLResolver):
            yield from routes(pattern.url_patterns, prefix + str(pattern.pattern))
        else:
            yield prefix + str(pattern.pattern), pattern


def is_api(pattern: URLPattern) -> bool:
    return hasattr(pattern.callback, "cls")


def by_link(pattern: URLPattern) -> bool:
    """Opened with a customer's link: `contractor.by_link` marks it."""
    return bool(getattr(pattern.callback, "by_link", False))


ROUTES = list(routes())
PAGES = [(path, pattern) for path, pattern in ROUTES if not is_api(pattern)]
CALLS = [(path, pattern) for path, pattern in ROUTES if is_api(pattern)]


def test_the_walk_finds_the_pages_and_the_calls() -> None:
    assert len(PAGES) > 50
    assert len(CALLS) > 5


@pytest.mark.parametrize(("path", "pattern"), PAGES, ids=[path for path, _pattern in PAGES])
def test_each_page_names_a_right_or_is_open_on_purpose(path: str, pattern: URLPattern) -> None:
    view = pattern.callback
    if getattr(view, "open_to_all", False):
        assert pattern.name in OPEN or by_link(pattern), f"{path} is open to all without a reason"
    else:
        assert getattr(view, "right", None) in RIGHTS, f"{path} names no right"


@pytest.mark.parametrize(("path", "pattern"), CALLS, ids=[path for path, _pattern in CALLS])
def test_each_call_authenticates_a_device(path: str, pattern: URLPattern) -> None:
    view = pattern.callback.cls
    if pattern.name in OPEN:
        assert view.authentication_classes == ()
        return
    assert [each.__name__ for each in view.authentication_classes] == ["DeviceToken"]
    names = {each.__name__ for each in view.permission_classes}
    assert names
    assert "AllowAny" not in names


def filled(path: str) -> str:
    """The address with something in each of its gaps."""

    def gap(found: re.Match[str]) -> str:
        kind = found[1].partition(":")[0] if ":" in found[1] else "str"
        known = {"uuid": str(uuid.uuid4()), "int": "1", "str": "some", "slug": "licences"}
        return known.get(kind) or get_converters()[kind].regex.split("|")[0]

    return "/" + re.sub(r"<([^>]+)>", gap, path)


@pytest.mark.django_db
def test_no_page_opens_without_signing_in(owner: Person, client: Client) -> None:
    for path, pattern in PAGES:
        if pattern.name in OPEN or by_link(pattern):
            continue
        for ask in (client.get, client.post):
            answer = ask(filled(path))
            assert answer.status_code == 302, path
            assert answer["Location"].startswith("/sign-in/"), path


@pytest.mark.django_db
def test_no_call_answers_without_a_token(owner: Person) -> None:
    for path, pattern in CALLS:
        if pattern.name not in OPEN:
            for method in ("get", "post", "put", "patch", "delete"):
                answer = getattr(APIClient(), method)(filled(path))
                assert answer.status_code in (401, 405), f"{method} {path}"


@pytest.mark.django_db
@pytest.mark.parametrize("role", Role.values)
def test_each_page_is_closed_to_each_role_without_its_right(role: str, firm) -> None:
    person = TechnicianFactory(role=role)
    client = Client(raise_request_exception=False)
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    for path, pattern in PAGES:
        right = getattr(pattern.callback, "right", None)
        if right is None or getattr(pattern.callback, "open_to_all", False):
            continue
        statuses = {ask(filled(path)).status_code for ask in (client.get, client.post)}
        if role in RIGHTS[right]:
            assert 403 not in statuses, path
        else:
            assert 403 in statuses, path
            assert statuses <= {403, 405}, path


@pytest.mark.django_db
def test_a_technician_finds_nothing_of_other_crews(crews_site: Site, as_technician: Client) -> None:
    other = SiteFactory()
    assert as_technician.get(f"/sites/{crews_site.pk}/").status_code == 200
    assert as_technician.get(f"/sites/{other.pk}/").status_code == 404
    listed = as_technician.get("/sites/").content.decode()
    assert crews_site.street in listed
    assert other.street not in listed


@pytest.mark.django_db
def test_a_technician_sees_no_links_and_no_office_actions(
    crews_site: Site, as_technician: Client
) -> None:
    page = as_technician.get(f"/sites/{crews_site.pk}/").content.decode()
    assert "Links given to the customer" not in page
    assert "/change/" not in page


@pytest.mark.django_db
def test_who_left_sees_nothing(crews_site: Site, technician: Person) -> None:
    assert access.visible(Site.objects.all(), technician).count() == 1
    technician.is_active = False
    assert access.visible(Site.objects.all(), technician).count() == 0
    assert not may(technician, Right.SIGNED_IN)


@pytest.mark.django_db
def test_only_owners_touch_owners() -> None:
    owner, office, field = OwnerFactory(), CoordinatorFactory(), TechnicianFactory()
    assert may_change_person(owner, OwnerFactory())
    assert may_change_person(office, field)
    assert may_change_person(office, CoordinatorFactory())
    assert not may_change_person(office, owner)
    assert not may_change_person(field, field)
