"""Do the tests have real servers of their own, and a worker whose clock can be moved?"""

import os
from datetime import datetime, timedelta

import pytest
from django.conf import settings
from django.core.cache import cache
from django.core.mail import EmailMessage
from django.db import connection
from redis import Redis


@pytest.mark.django_db
def test_the_database_is_a_private_copy_of_the_migrated_one():
    with connection.cursor() as cursor:
        cursor.execute("SHOW listen_addresses")
        assert cursor.fetchone() == ("",)
        cursor.execute("SHOW data_directory")
        assert cursor.fetchone() == (f"{os.environ['LOCAL_DIR']}/postgres",)
    assert connection.settings_dict["NAME"].startswith("test_contractor")


def test_each_process_has_its_own_part_of_the_broker():
    number = os.environ.get("PYTEST_XDIST_WORKER", "gw-1").removeprefix("gw")
    client = Redis.from_url(settings.REDIS_URL)
    assert client.connection_pool.connection_kwargs["db"] == int(number) + 1
    assert client.ping()


def test_the_cache_is_emptied_between_tests_1():
    assert cache.get("left-over") is None
    cache.set("left-over", True)


def test_the_cache_is_emptied_between_tests_2():
    assert cache.get("left-over") is None
    cache.set("left-over", True)


def test_mail_arrives_over_smtp_and_can_be_refused(smtp):
    mail = EmailMessage(
        "Walk-through", "Your panel.", "office@tallowcreek.example", ["a@b.example"]
    )
    mail.send()
    smtp.answer = "451 try again later"
    with pytest.raises(OSError, match="try again later"):
        mail.send()
    assert [message["Subject"] for message in smtp.messages] == ["Walk-through"]
    assert smtp.recipients == [["a@b.example"]]


def test_a_worker_runs_tasks_on_the_test_database_by_its_own_clock(celery_worker):
    next_week = datetime.fromisoformat("2026-12-02T16:00:00+00:00")
    worker = celery_worker(at=next_week)
    worker.run("tests.moment")
    moment, database = worker.wait_for("moment", 1).split()
    assert timedelta(0) <= datetime.fromisoformat(moment) - next_week < timedelta(minutes=1)
    assert database == connection.settings_dict["NAME"]


def test_a_task_that_fails_fails_the_test(celery_worker):
    worker = celery_worker()
    with pytest.raises(AssertionError, match="takes 0 positional arguments"):
        worker.run("tests.moment", "unexpected")
