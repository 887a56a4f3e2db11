"""Addresses as a person mistypes them or a stale page sends them: told in words, never broken."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.factories import jobs as make


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/jobs/?q=²", 200),
        ("/jobs/?kind=²&state=open", 200),
        ("/permits/?lapsing=²", 200),
        ("/jobs/new/?site=none", 404),
        ("/jobs/new/?customer=none", 404),
        ("/week/?from=2026-13-45", 200),
        ("/week/?from=0001-01-01", 200),
        ("/week/?from=9999-12-31", 200),
        ("/day/?on=0001-01-01", 200),
        ("/day/?on=9999-12-31", 200),
        ("/jobs/new/?q=%00", 200),
        ("/jobs/?q=%00", 200),
    ],
)
def test_an_odd_address_is_answered(at_desk: Client, address: str, status: int) -> None:
    assert at_desk.get(address).status_code == status


def test_a_day_that_is_none_opens_the_plan_all_the_same(at_desk: Client) -> None:
    page = at_desk.get(f"/visits/{make.visit().pk}/plan/?day=2026-13-45")
    assert page.status_code == 200


def test_a_load_begun_from_no_circuit_is_not_found(at_desk: Client) -> None:
    assert at_desk.get(f"/sites/{make.site().pk}/load/add/?circuit=none").status_code == 404
