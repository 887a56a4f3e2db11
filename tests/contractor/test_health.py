"""Does /healthz notice what is not well?"""

from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.conf import settings
from django.core.cache import cache
from django.db import connection
from django.test import Client
from redis import Redis

from contractor import health

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


def ask():
    answer = Client(headers={"host": "10.0.0.7"}).get("/healthz")
    return answer.status_code, answer.json()


def test_all_is_well_after_a_sweep():
    health.heartbeat(health.SWEEP)
    assert ask() == (200, {"database": "ok", "broker": "ok", "sweep": "ok"})


def test_a_clock_that_never_swept_is_not_well():
    assert ask() == (503, {"database": "ok", "broker": "ok", "sweep": "none yet"})


def test_a_sweep_of_five_minutes_ago_is_well_and_of_six_is_not():
    with time_machine.travel(NOON, tick=False) as clock:
        health.heartbeat(health.SWEEP)
        clock.shift(timedelta(minutes=5))
        assert ask()[0] == 200
        clock.shift(timedelta(minutes=1))
        assert ask() == (503, {"database": "ok", "broker": "ok", "sweep": "360 seconds ago"})


def test_a_heartbeat_is_kept_until_the_next_one():
    health.heartbeat("anything")
    server = Redis.from_url(settings.REDIS_URL)
    assert server.ttl(cache.make_key("heartbeat:anything")) == -1  # the protocol's "never"


def test_without_a_broker_it_answers_and_says_so(monkeypatch, tmp_path):
    health.heartbeat(health.SWEEP)
    monkeypatch.setattr(health.app.conf, "broker_write_url", f"redis+socket://{tmp_path}/none.sock")
    status, said = ask()
    assert status == 503
    assert said["broker"] == "OperationalError"
    assert said["database"] == "ok"


@pytest.mark.django_db(transaction=True)
def test_without_a_database_it_answers_and_says_so(monkeypatch, tmp_path):
    health.heartbeat(health.SWEEP)
    connection.close()
    with monkeypatch.context() as patch:
        patch.setitem(connection.settings_dict, "HOST", str(tmp_path))
        status, said = ask()
        connection.close()
    assert status == 503
    assert said["database"] == "OperationalError"
    assert said["broker"] == "ok"


def test_it_cannot_be_posted_to():
    assert Client().post("/healthz").status_code == 405
