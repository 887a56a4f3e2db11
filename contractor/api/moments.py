"""Which moments does the API take: those a firm can have lived through or plans for."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django.utils.translation import gettext_lazy as _
from rest_framework import serializers

EARLIEST = dt.datetime(1990, 1, 1, tzinfo=dt.UTC)
LATEST = dt.datetime(2100, 1, 1, tzinfo=dt.UTC)


class MomentField(serializers.DateTimeField):
    """A moment with its offset (RFC 3339), within living memory; a slipped year is refused."""

    default_error_messages = {
        "year": _("Look at the year: only moments from 1990 through 2099 are taken.")
    }

    def to_internal_value(self, value: Any) -> dt.datetime:
        moment: dt.datetime = super().to_internal_value(value)
        if not EARLIEST <= moment < LATEST:
            self.fail("year")
        return moment
