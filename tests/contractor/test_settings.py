"""Does it refuse to start carelessly, and run safely in production?"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client

from contractor.models import Firm, PasswordLetter, Person
from contractor.services.letters import send_letters

PRODUCTION = {
    "PRODUCTION": "1",
    "SECRET_KEY": "k" * 25 + "0123456789-abcdefghijklmnop-QRSTUV",
    "ALLOWED_HOSTS": "office.tallowcreek.example",
    "SITE_URL": "https://office.tallowcreek.example",
}


def run(*words: str, **changes: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, **PRODUCTION, **changes}
    return subprocess.run(
        [sys.executable, *words], env=environment, cwd=settings.BASE_DIR, capture_output=True,
        text=True, timeout=120, check=False,
    )  # fmt: skip


def test_the_deployment_check_has_nothing_to_say() -> None:
    checked = run("manage.py", "check", "--deploy", "--fail-level", "WARNING")
    assert checked.returncode == 0, checked.stderr
    assert "no issues (0 silenced)" in checked.stdout + checked.stderr


@pytest.mark.parametrize(
    "careless",
    [
        {"DEBUG": "1"},
        {"SECRET_KEY": ""},
        {"SECRET_KEY": "short"},
        {"ALLOWED_HOSTS": ""},
        {"ALLOWED_HOSTS": "*"},
    ],
)
def test_a_careless_production_does_not_start(careless: dict[str, str]) -> None:
    started = run("-c", "import contractor.settings", **careless)
    assert started.returncode != 0
    assert "In production set SECRET_KEY" in started.stderr


IN_PRODUCTION = """
import django; django.setup()
from django.conf import settings
settings.SECURE_SSL_REDIRECT = True
from django.test import Client
client = Client(headers={"host": "office.tallowcreek.example"})
"""


@pytest.fixture
def static_files(tmp_path: Path) -> dict[str, str]:
    """Scripts and styles as a deployment collects them."""
    collected = {"STATIC_ROOT": str(tmp_path)}
    assert run("manage.py", "collectstatic", "--noinput", **collected).returncode == 0
    return collected


def test_cookies_are_bound_to_the_host_and_kept_from_scripts(
    static_files: dict[str, str],
) -> None:
    shown = run(
        "-c",
        IN_PRODUCTION + "page = client.get('/password/sent/', secure=True)\n"
        "print(page.cookies.output()); print(settings.SESSION_COOKIE_NAME, "
        "settings.SESSION_COOKIE_SECURE, settings.SESSION_COOKIE_HTTPONLY, "
        "settings.SESSION_COOKIE_SAMESITE)\nprint(dict(page.headers))",
        DJANGO_SETTINGS_MODULE="contractor.settings",
        **static_files,
    )
    assert shown.returncode == 0, shown.stderr
    assert "__Host-csrf=" in shown.stdout
    assert "Secure" in shown.stdout
    assert "__Host-session True True Lax" in shown.stdout
    assert "max-age=31536000; includeSubDomains; preload" in shown.stdout


def test_pages_are_led_to_https_and_the_api_is_refused_instead() -> None:
    shown = run(
        "-c",
        IN_PRODUCTION + "print(client.get('/sign-in/').headers.get('Location'))\n"
        "print(client.get('/api/v1/me').status_code)",
        DJANGO_SETTINGS_MODULE="contractor.settings",
    )
    assert shown.stdout.split() == ["https://office.tallowcreek.example/sign-in/", "401"]


@pytest.mark.django_db
@pytest.mark.parametrize("header", ["Host", "X-Forwarded-Host"])
def test_a_forged_host_leads_nowhere(firm: Firm, header: str, settings, client: Client) -> None:
    settings.ALLOWED_HOSTS = ["office.tallowcreek.example"]
    named = {"Host": "office.tallowcreek.example", header: "evil.example"}
    answer = client.get("/sign-in/", headers=named)
    if header == "Host":
        assert answer.status_code == 400
    assert "evil.example" not in answer.headers.get("Location", "") + answer.content.decode()


@pytest.mark.django_db
def test_a_mailed_link_is_built_from_the_configured_address(
    owner: Person, client: Client, settings, mailoutbox
) -> None:
    settings.SITE_URL = "https://office.tallowcreek.example"
    client.post("/password/forgotten/", {"email": owner.email}, headers={"Host": "evil.example"})
    send_letters(now=PasswordLetter.objects.get().asked_at)
    assert "https://office.tallowcreek.example/password/" in mailoutbox[0].body
    assert "evil.example" not in mailoutbox[0].body


@pytest.mark.django_db
def test_every_answer_keeps_scripts_and_frames_of_others_out(firm: Firm, client: Client) -> None:
    for path in ("/sign-in/", "/password/forgotten/", "/nowhere/", "/api/v1/me"):
        answer = client.get(path)
        policy = answer.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
