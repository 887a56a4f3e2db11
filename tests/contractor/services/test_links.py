"""Does a customer's link open what it was made for, until it is over, and nothing else?"""

from __future__ import annotations

import datetime as dt
import uuid

import pytest

from contractor.errors import Refused
from contractor.models import CustomerLink
from contractor.services.links import link_for, make_link, open_link, revoke_link
from tests.factories.contractor import FirmFactory, OwnerFactory, SiteFactory

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, 0, tzinfo=dt.UTC)
Purpose = CustomerLink.Purpose


@pytest.fixture
def link() -> CustomerLink:
    FirmFactory(link_days=90, door_link_days=1825)
    return make_link(site=SiteFactory(), purpose=Purpose.MAIL, now=NOW)


def refusal(token: str, *purposes: Purpose, now: dt.datetime = NOW) -> tuple[str, int]:
    with pytest.raises(Refused) as refused:
        open_link(token=token, purposes=purposes or (Purpose.MAIL,), now=now)
    return refused.value.code, refused.value.status


def test_a_link_opens_for_its_purpose_and_counts(link: CustomerLink) -> None:
    for _time in range(2):
        opened = open_link(token=link.token, purposes=(Purpose.DOOR, Purpose.MAIL), now=NOW)
        assert opened == link
    link.refresh_from_db()
    assert link.opened == 2


def test_a_link_for_another_purpose_does_not_exist(link: CustomerLink) -> None:
    assert refusal(link.token, Purpose.ANSWER, Purpose.DOOR) == ("link_unknown", 404)


def test_the_row_alone_opens_nothing(link: CustomerLink) -> None:
    signature = link.token.partition(".")[2]
    for token in (
        link.id.hex,
        f"{link.id.hex}.",
        f"{uuid.uuid4().hex}.{signature}",
        "x.y",
        "",
        ".",
    ):
        assert refusal(token) == ("link_unknown", 404)


def test_a_signature_without_its_row_opens_nothing(link: CustomerLink) -> None:
    token = link.token
    link.delete()
    assert refusal(token) == ("link_unknown", 404)


def test_the_last_moment_and_the_one_after(link: CustomerLink) -> None:
    assert link.expires_at == NOW + dt.timedelta(days=90)
    last = link.expires_at - dt.timedelta(seconds=1)
    open_link(token=link.token, purposes=(Purpose.MAIL,), now=last)
    assert refusal(link.token, now=link.expires_at) == ("link_expired", 410)


def test_a_link_taken_back_is_over_at_once_and_keeps_who_did_it(link: CustomerLink) -> None:
    owner, other = OwnerFactory(), OwnerFactory()
    revoke_link(link=link, by=owner, now=NOW)
    again = revoke_link(link=link, by=other, now=NOW + dt.timedelta(hours=1))
    assert (again.revoked_by, again.revoked_at) == (owner, NOW)
    assert refusal(link.token) == ("link_revoked", 410)


def test_a_door_keeps_its_link_until_it_is_taken_back() -> None:
    FirmFactory(door_link_days=1825)
    site, panel = SiteFactory(), uuid.uuid4()
    first = link_for(site=site, purpose=Purpose.DOOR, subject=panel, now=NOW)
    assert first.expires_at == NOW + dt.timedelta(days=1825)
    later = NOW + dt.timedelta(days=300)
    assert link_for(site=site, purpose=Purpose.DOOR, subject=panel, now=later) == first
    assert link_for(site=site, purpose=Purpose.DOOR, subject=uuid.uuid4(), now=later) != first
    revoke_link(link=first, by=OwnerFactory(), now=later)
    assert link_for(site=site, purpose=Purpose.DOOR, subject=panel, now=later) != first


def test_a_link_given_out_again_is_good_for_its_full_time_again(link: CustomerLink) -> None:
    late = link.expires_at - dt.timedelta(days=1)
    again = link_for(site=link.site, purpose=Purpose.MAIL, now=late)
    assert (again, again.token) == (link, link.token)
    open_link(token=link.token, purposes=(Purpose.MAIL,), now=late + dt.timedelta(days=89))
    earlier = link_for(site=link.site, purpose=Purpose.MAIL, now=NOW)
    assert earlier.expires_at == late + dt.timedelta(days=90)


def test_a_link_signed_with_the_key_before_still_opens(link: CustomerLink, settings) -> None:
    token = link.token
    settings.SECRET_KEY_FALLBACKS = [settings.SECRET_KEY]
    settings.SECRET_KEY = "another key, fifty characters long or even longer than that"
    assert open_link(token=token, purposes=(Purpose.MAIL,), now=NOW) == link
    settings.SECRET_KEY_FALLBACKS = []
    assert refusal(token) == ("link_unknown", 404)
