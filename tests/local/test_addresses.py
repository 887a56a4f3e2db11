"""Are the addresses of a local run short, private, and read alike by every library?"""

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import environ
import pytest

from contractor.local import addresses

LONGEST_SOCKET_PATH = 103  # macOS; Linux allows 107


@pytest.fixture
def local(folder, monkeypatch):
    monkeypatch.setenv("LOCAL_DIR", str(folder))
    return folder


def test_sockets_stay_short_however_deep_the_checkout_lies(monkeypatch):
    monkeypatch.setenv("LOCAL_DIR", "/home/" + "deep/" * 60)
    assert len(f"{addresses.sockets()}/.s.PGSQL.5432.lock") < LONGEST_SOCKET_PATH


def test_two_checkouts_never_meet(monkeypatch):
    monkeypatch.setenv("LOCAL_DIR", "/one")
    one = addresses.database_url()
    monkeypatch.setenv("LOCAL_DIR", "/two")
    assert addresses.database_url() != one


def test_a_socket_folder_that_others_may_enter_is_refused(folder):
    (folder / "open").mkdir(mode=0o755)
    with pytest.raises(PermissionError, match="only you can enter"):
        addresses.private_folder(folder / "open")


def test_a_socket_folder_that_is_a_link_is_refused(folder):
    (folder / "link").symlink_to(addresses.private_folder(folder / "private"))
    with pytest.raises(PermissionError, match="only you can enter"):
        addresses.private_folder(folder / "link")


def test_django_reads_the_database_url():
    read = environ.Env.db_url_config(addresses.postgres_url(Path("/a/folder"), "firm"))
    assert (read["HOST"], read["PORT"], read["USER"]) == ("/a/folder", 5432, "contractor")
    assert read["NAME"] == "firm"


def test_a_redis_url_on_a_network_is_left_as_it_is():
    assert addresses.broker_url("rediss://u:p@broker:6380/2") == "rediss://u:p@broker:6380/2"


def test_addresses_chosen_at_the_start_are_found_by_later_shells(local):
    assert addresses.site_url() == "http://127.0.0.1:8000"
    addresses.note("site-url", "http://127.0.0.1:8003")
    assert addresses.site_url() == "http://127.0.0.1:8003"


def test_the_secret_key_is_made_once_and_for_its_owner_only(local):
    with ThreadPoolExecutor(8) as many:
        keys = set(many.map(lambda _: addresses.secret_key(), range(8)))
    assert len(keys) == 1
    assert len(keys.pop()) >= 50
    assert (local / "secret-key").stat().st_mode & 0o777 == 0o600
    assert os.listdir(local) == ["secret-key"]
