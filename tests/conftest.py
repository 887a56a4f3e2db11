"""What tests of several rooms share."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from collections.abc import Iterator
from typing import Any

import pytest
import time_machine

# A Wednesday at noon: the crews are out.
NOON = dt.datetime(2026, 11, 25, 12, 0, tzinfo=zoneinfo.ZoneInfo("America/New_York"))


@pytest.fixture(scope="module")
def invented_firm(django_db_setup: None, django_db_blocker: Any) -> Iterator[dt.datetime]:
    """The demo as `make run` loads it at noon, once for all tests of a module."""
    from django.db import transaction

    from followups.demo.loading import load

    with (
        django_db_blocker.unblock(),
        transaction.atomic(),
        time_machine.travel(NOON, tick=False),
    ):
        load(now=NOON)
        yield NOON
        transaction.set_rollback(True)
