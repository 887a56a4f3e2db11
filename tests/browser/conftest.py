"""A whole run as `make run` starts it, and a real Chromium in front of it."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, ConsoleMessage, Page, sync_playwright

from contractor.local import addresses
from followups.demo import PASSWORD

if TYPE_CHECKING:
    from tests.browser.begun import Begun

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1440, "height": 900}
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-sync",
    "--disable-background-networking",
    "--disable-component-update",
]
PROGRAM = shutil.which("chromium") or shutil.which("chromium-browser")
REPLACED = ("DATABASE_URL", "REDIS_URL", "EMAIL_URL", "LOCAL_DIR", "DJANGO_SETTINGS_MODULE")
# WCAG 2.2 A and AA, by the names the axe rules are tagged with.
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Without Chromium every browser test is skipped by name; where CI is set that is a failure."""
    if PROGRAM or os.environ.get("CI"):
        return
    for item in items:
        item.add_marker(pytest.mark.skip(reason="there is no Chromium on this machine"))


class Run:
    """`make run` in a folder of its own."""

    def __init__(self, **environment: str) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="browser-", dir="/tmp"))
        outside = {name: value for name, value in os.environ.items() if name not in REPLACED}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "contractor.local"],
            cwd=addresses.CHECKOUT,
            env=outside | {"LOCAL_DIR": str(self.folder), "PYTHONUNBUFFERED": "1"} | environment,
            stdout=subprocess.PIPE,
            text=True,
        )
        said = self._listen()
        self.address = _address("Open", said)
        self.mails = _address("Mails", said)

    def _listen(self) -> str:
        said = ""
        assert self.process.stdout
        for line in self.process.stdout:
            said += line
            if "Ctrl-C stops everything" in line:
                return said
        pytest.fail(f"the run did not start:\n{said}")

    def stop(self) -> None:
        self.process.send_signal(signal.SIGINT)
        self.process.wait(timeout=60)
        shutil.rmtree(self.folder, ignore_errors=True)


def _address(label: str, said: str) -> str:
    found = re.search(rf"{label}\s+(http://[\d.:]+)", said)
    assert found, said
    return found[1]


@pytest.fixture(scope="session")
def demo() -> Iterator[Run]:
    run = Run(PORT="8210")
    yield run
    run.stop()


@pytest.fixture(scope="session")
def empty() -> Iterator[Run]:
    run = Run(PORT="8220", DEMO="0")
    yield run
    run.stop()


@pytest.fixture(scope="session")
def begun(empty: Run, browser: Browser) -> Begun:
    """The empty firm set up by hand."""
    from tests.browser.begun import set_up

    with browser.new_context(viewport=DESK, base_url=empty.address) as context:  # type: ignore[arg-type]
        return set_up(context.new_page(), empty)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=PROGRAM, args=FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture
def page_of(browser: Browser) -> Iterator[Callable[..., Page]]:
    """`page_of(run, size)` opens a fresh window; whatever its console complains of fails."""
    complaints: list[str] = []
    contexts = []

    def open_page(run: Run, size: dict[str, int] = DESK) -> Page:
        context = browser.new_context(viewport=size, base_url=run.address)  # type: ignore[arg-type]
        context.set_default_timeout(15_000)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda said: complaints.append(said.text) if wrong(said) else None)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert complaints == []


def wrong(said: ConsoleMessage) -> bool:
    """An error on the console, but for a refusal, which Chromium takes for one."""
    return said.type == "error" and not re.search(r"status of (409|422)\b", said.text)


@pytest.fixture
def sign_in() -> Callable[[Page, str], None]:
    def as_person(page: Page, name: str, password: str = PASSWORD) -> None:
        page.goto("/sign-in/")
        page.get_by_label("E-mail").fill(f"{name}@tallowcreek.example")
        page.get_by_label("Password").fill(password)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url(lambda url: "sign-in" not in url)

    return as_person


def faults(page: Page) -> list[str]:
    """What axe finds against WCAG 2.2 A and AA, each with the place."""
    found = Axe().run(page, options=AXE).response["violations"]
    return [
        f"{page.url} {rule['id']}: {node['target']} {node['failureSummary']}"
        for rule in found
        for node in rule["nodes"]
    ]


def overflows(page: Page) -> bool:
    """True when the page is wider than its window."""
    return bool(
        page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth")
    )
