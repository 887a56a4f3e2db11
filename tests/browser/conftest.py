"""A real Chromium for the browser tests; without one they are skipped, in CI they fail."""

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

# Playwright keeps a loop running in this thread; the tests' own database calls stay synchronous.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def chromium() -> str:
    """The path of a Chromium on this machine."""
    for name in NAMES:
        if path := shutil.which(name):
            return path
    missing = "no Chromium is installed: the browser tests did not run"
    if os.environ.get("CI"):
        pytest.fail(missing)
    pytest.skip(missing)


@pytest.fixture(scope="session")
def browser(chromium: str) -> Iterator[Browser]:
    """One Chromium for all tests; each opens a context of its own."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        yield opened
        opened.close()
