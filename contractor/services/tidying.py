"""Throw away what has served: sessions, tokens, letters and lists past their time."""

from __future__ import annotations

import datetime as dt

from axes.models import AccessAttempt, AccessLog
from django.conf import settings
from django.contrib.sessions.models import Session
from django_otp.plugins.otp_totp.models import TOTPDevice

from contractor.models import Device, PasswordLetter, UploadedList

SIGN_INS_KEPT = dt.timedelta(days=396)  # 13 months
LETTERS_KEPT = dt.timedelta(days=30)
UNTAKEN_LISTS_KEPT = dt.timedelta(days=7)
LIST_ROWS_KEPT = dt.timedelta(days=30)


def tidy(*, now: dt.datetime) -> None:
    """Every line alone: what one leaves behind the next day takes."""
    Session.objects.filter(expire_date__lt=now).delete()
    Device.objects.filter(expiry__lt=now).delete()
    AccessAttempt.objects.filter(attempt_time__lt=now - settings.AXES_COOLOFF_TIME).delete()
    AccessLog.objects.filter(attempt_time__lt=now - SIGN_INS_KEPT).delete()
    PasswordLetter.objects.filter(asked_at__lt=now - LETTERS_KEPT).delete()
    TOTPDevice.objects.filter(confirmed=False, created_at__lt=now - dt.timedelta(days=1)).delete()
    lists = UploadedList.objects
    lists.filter(taken_at__isnull=True, uploaded_at__lt=now - UNTAKEN_LISTS_KEPT).delete()
    lists.filter(taken_at__lt=now - LIST_ROWS_KEPT).exclude(rows=[]).update(rows=[])
