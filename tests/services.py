"""The real servers that tests run against: PostgreSQL, Valkey, SMTP, a Celery worker.

Loaded by `-p tests.services` before Django's settings are read.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from contractor.local import addresses, postgres, valkey
from tests import prepared
from tests.mailbox import Mailbox
from tests.workers import Workers

FROM_OUTSIDE = ("PRODUCTION", "DEBUG", "SECRET_KEY", "EMAIL_URL", "DJANGO_SETTINGS_MODULE")


@pytest.hookimpl(tryfirst=True)
def pytest_load_initial_conftests(early_config: pytest.Config) -> None:
    worker = os.environ.get("PYTEST_XDIST_WORKER")
    if worker:  # the controlling process has started the servers and said where they are
        number = 1 + int(worker.removeprefix("gw"))
        os.environ["REDIS_URL"] = addresses.valkey_url(Path(os.environ["LOCAL_DIR"]), number)
        return
    for name in FROM_OUTSIDE:
        os.environ.pop(name, None)
    folder = Path(tempfile.mkdtemp(prefix="contractor-tests-", dir="/tmp"))
    early_config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    os.environ["LOCAL_DIR"] = str(folder)
    os.environ["DATABASE_URL"] = addresses.postgres_url(folder)
    os.environ["REDIS_URL"] = addresses.valkey_url(folder)
    (folder / "static").mkdir()
    prepared.fill(folder / "postgres", folder)
    for server in (postgres, valkey):
        name = server.__name__.rpartition(".")[2]
        child = server.serve(data=folder / name, sockets=folder, logs=folder / "log", fast=True)
        early_config.add_cleanup(child.stop)


def pytest_configure() -> None:
    from django.conf import settings
    from django.db import connection

    connection.settings_dict["TEST"]["TEMPLATE"] = addresses.DATABASE
    settings.PGTRIGGER_INSTALL_ON_MIGRATE = False  # the template has them
    # Argon2 is slow on purpose; tests sign in often.
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(autouse=True)
def _empty_cache() -> Iterator[None]:
    from django.core.cache import cache

    yield
    cache.clear()


@pytest.fixture
def smtp(settings) -> Iterator[Mailbox]:
    """A real SMTP server that Django's mail goes to."""
    mailbox = Mailbox()
    controller = mailbox.open()
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = controller.hostname, mailbox.port
    yield mailbox
    controller.stop()


@pytest.fixture
def celery_worker(transactional_db: None, smtp: Mailbox) -> Iterator[Workers]:
    """Start real workers: `worker = celery_worker(at=moment)`, then `worker.run("a.task")`."""
    workers = Workers(smtp.url)
    yield workers
    workers.stop()
