"""Is what has served thrown away, and nothing else?"""

from __future__ import annotations

import datetime as dt

import pytest
from axes.models import AccessAttempt, AccessLog
from django.contrib.sessions.models import Session

from contractor.models import Device, PasswordLetter, UploadedList
from contractor.services.tidying import tidy
from tests.factories.contractor import CoordinatorFactory

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def ago(**span: float) -> dt.datetime:
    return NOW - dt.timedelta(**span)


def test_each_thing_goes_after_its_time_and_not_before() -> None:
    by = CoordinatorFactory()
    for moment in (ago(days=1), NOW + dt.timedelta(days=1)):
        Session.objects.create(session_key=str(moment.day), session_data="x", expire_date=moment)
        device, _token = Device.objects.create(user=by, name="phone")
        Device.objects.filter(pk=device.pk).update(expiry=moment)
    for name, moment in (("old", ago(minutes=16)), ("new", ago(minutes=14))):
        attempt = AccessAttempt.objects.create(username=name, failures_since_start=1)
        AccessAttempt.objects.filter(pk=attempt.pk).update(attempt_time=moment)
    for moment in (ago(days=397), ago(days=395)):
        log = AccessLog.objects.create(username="x")
        AccessLog.objects.filter(pk=log.pk).update(attempt_time=moment)
    for moment in (ago(days=31), ago(days=29)):
        PasswordLetter.objects.create(email="a@mail.example", why="invited", asked_at=moment)
    tidy(now=NOW)
    kept = (Session, Device, AccessAttempt, AccessLog, PasswordLetter)
    assert [model.objects.count() for model in kept] == [1, 1, 1, 1, 1]
    assert AccessAttempt.objects.get().username == "new"


def test_a_list_taken_in_keeps_its_outcome_and_loses_its_rows() -> None:
    by = CoordinatorFactory()
    made = {"kind": "customers", "rows": [[2, {"Customer": "Avery"}]], "uploaded_by": by}
    for age in (6, 8):
        UploadedList.objects.create(**made, uploaded_at=ago(days=age), file_name=f"untaken {age}")
    for age in (29, 31):
        UploadedList.objects.create(
            **made,
            uploaded_at=ago(days=age),
            taken_at=ago(days=age),
            outcome={"rows": 1},
            file_name=f"taken {age}",
        )
    tidy(now=NOW)
    left = {row.file_name: bool(row.rows) for row in UploadedList.objects.all()}
    assert left == {"untaken 6": True, "taken 29": True, "taken 31": False}
    assert UploadedList.objects.get(file_name="taken 31").outcome == {"rows": 1}
