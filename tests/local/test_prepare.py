"""Is the demo loaded at the first start only, and never into a firm's own data?

The load itself is seen by the browser tests, which start a run with the demo and one without.
"""

import os
import subprocess
import sys
from pathlib import Path

import psycopg
import pytest

from contractor.local import addresses, prepare
from contractor.models import Person


@pytest.fixture
def database():
    """A migrated database on the tests' server, as one that was in use before."""
    place = Path(os.environ["LOCAL_DIR"])
    name = f"prepare_{os.environ.get('PYTEST_XDIST_WORKER', 'only')}"
    server = f"host={place} port=5432 user=contractor dbname=postgres"
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE {addresses.DATABASE}")
        yield addresses.postgres_url(place, name)
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


def test_a_database_that_was_in_use_before_is_never_due_for_the_demo(folder, database):
    env = os.environ | {"DATABASE_URL": database, "LOCAL_DIR": str(folder), "DEMO": "1"}
    command = [sys.executable, "-m", "contractor.local.prepare"]
    said = subprocess.run(
        command, cwd=addresses.CHECKOUT, env=env, check=True, capture_output=True, text=True
    )
    assert "Applying" not in said.stdout
    assert not (folder / "demo").exists()


@pytest.mark.django_db
@pytest.mark.parametrize("noted", ["none", "loaded"])
def test_a_later_start_loads_nothing(folder, noted):
    (folder / "demo").write_text(noted)
    prepare.load_once(folder / "demo")
    assert not Person.objects.exists()
    assert (folder / "demo").read_text() == noted


@pytest.mark.django_db
def test_a_start_that_was_killed_right_after_the_load_does_not_load_again(folder):
    (folder / "demo").write_text("due")
    Person.objects.create(email="dana@tallowcreek.example")
    prepare.load_once(folder / "demo")
    assert Person.objects.count() == 1
    assert (folder / "demo").read_text() == "loaded"
