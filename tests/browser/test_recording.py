"""Thirty breakers of a 42-space panel, typed in by thumb on a phone."""

from __future__ import annotations

import logging
import os
import time
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, expect

from contractor.models import Person
from panels.models import Panel
from tests.browser.conftest import PHONE, faults, overflows
from tests.factories import jobs
from tests.factories.contractor import CrewFactory, FirmFactory, TechnicianFactory
from tests.factories.panels import a_panel

pytestmark = pytest.mark.django_db(transaction=True)
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")  # the browser's loop runs in this thread
logger = logging.getLogger(__name__)

# (size, rating, kind, name): as met in a house, in the order they sit down the columns.
THIRTY = [
    ("2", 50, "branch", "Range"),
    ("2", 30, "branch", "Dryer"),
    ("2", 30, "branch", "Water heater"),
    ("2", 40, "branch", "Air conditioner, outdoor unit"),
    ("2", 60, "branch", "Vehicle supply equipment"),
    ("1", 20, "branch", "Kitchen counter receptacles"),
    ("1", 20, "branch", "Kitchen counter receptacles 2"),
    ("1", 20, "branch", "Dishwasher"),
    ("1", 20, "branch", "Disposer"),
    ("1", 20, "branch", "Microwave"),
    ("1", 20, "branch", "Refrigerator"),
    ("1", 20, "branch", "Bathroom receptacles"),
    ("1", 20, "branch", "Laundry receptacles"),
    ("1", 20, "branch", "Garage receptacles"),
    ("1", 20, "branch", "Dining room receptacles"),
    ("1", 20, "branch", "Outdoor receptacles"),
    ("1", 20, "branch", "Basement receptacles"),
    ("1", 20, "branch", "Furnace"),
    ("1", 20, "branch", "Sump pump"),
    ("1", 15, "branch", "Bedroom receptacles"),
    ("1", 15, "branch", "Bedroom receptacles 2"),
    ("1", 15, "branch", "Living room receptacles"),
    ("1", 15, "branch", "Kitchen lights"),
    ("1", 15, "branch", "Hall and stair lights"),
    ("1", 15, "branch", "Outdoor lights"),
    ("1", 15, "branch", "Smoke alarms"),
    ("1", 15, "branch", "Koi pond pump, north fence"),
    ("1", 15, "branch", "Attic lights"),
    ("1", 20, "spare", ""),
    ("1", 20, "spare", ""),
]


@pytest.fixture
def technician(db: None) -> Person:
    FirmFactory()
    return TechnicianFactory(name="Tess Holloway")


@pytest.fixture
def panel(technician: Person) -> Panel:
    booked = jobs.job()
    booked.visits.update(crew=CrewFactory(people=[technician]))
    return a_panel(booked.site)


@pytest.fixture
def phone(browser: Browser, live_server: Any, technician: Person) -> Iterator[BrowserContext]:
    client = Client()
    client.force_login(technician, backend="django.contrib.auth.backends.ModelBackend")
    context = browser.new_context(
        viewport=PHONE, has_touch=True, is_mobile=True, base_url=live_server.url
    )
    cookie = {"name": "sessionid", "value": client.cookies["sessionid"].value}
    context.add_cookies([{**cookie, "url": live_server.url}])
    context.set_default_timeout(10_000)
    yield context
    context.close()


class Thumb:
    """Counts every tap and every key, as someone with one hand free would."""

    def __init__(self, page: Page) -> None:
        self.page, self.taps, self.keys = page, 0, 0

    def tap(self, selector: str) -> None:
        self.page.locator(selector).first.tap()
        self.taps += 1

    def choose(self, name: str, value: str) -> None:
        key = self.page.locator(f'[name="{name}"][value="{value}"]')
        if not key.is_checked():
            key.tap(force=True)
            self.taps += 1

    def put(self, size: str, rating: int, kind: str, name: str) -> None:
        self.choose("size", size)
        self.choose("rating", str(rating))
        self.choose("kind", kind)
        before = self.page.locator("[data-which]").inner_text()
        chip = self.page.locator(f'.chip[value="{name}"]:visible')
        if kind == "spare":
            self.tap(".writing .button")
        elif chip.count():
            chip.tap()
            self.taps += 1
        else:
            self.type(name)
        expect(self.page.locator("[data-which]")).not_to_have_text(before)

    def type(self, name: str) -> None:
        self.tap("#id_name")
        self.page.keyboard.type(name)
        self.page.keyboard.press("Enter")
        self.keys += len(name) + 1


def test_thirty_breakers_by_thumb(phone: BrowserContext, panel: Panel) -> None:
    page = phone.new_page()
    page.goto(f"/panels/{panel.pk}/record/")
    thumb = Thumb(page)
    started = time.monotonic()
    for breaker in THIRTY:
        thumb.put(*breaker)
    seconds = time.monotonic() - started
    logger.warning("30 breakers: %s taps, %s keys, %.1f s", thumb.taps, thumb.keys, seconds)
    assert panel.circuits.count() == 30
    assert [(c.rating_a, c.name) for c in panel.circuits.order_by("slots")] == [
        (rating, name) for _size, rating, _kind, name in THIRTY
    ]
    assert thumb.taps <= 45  # one and a half a breaker
    assert thumb.keys <= 30  # only what has no common name is typed


def test_everything_needed_is_within_one_screen(phone: BrowserContext, panel: Panel) -> None:
    page = phone.new_page()
    page.goto(f"/panels/{panel.pk}/record/")
    assert not overflows(page)
    height = page.evaluate("window.innerHeight")
    for needed in ("[data-which]", ".sizes", ".ratings", ".kinds", ".writing", ".plate"):
        box = page.locator(needed).bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= height, needed
    page.set_viewport_size({"width": PHONE["width"], "height": 1600})  # the bar covers nothing then
    assert faults(page) == []


def test_a_keyboard_alone_is_enough(phone: BrowserContext, panel: Panel) -> None:
    page = phone.new_page()
    page.goto(f"/panels/{panel.pk}/record/")
    page.locator('[name="size"][value="1"]').focus()
    page.keyboard.press("ArrowRight")
    assert page.locator("[data-which]").inner_text() == "1,3"
    page.locator('[name="rating"]:checked').focus()
    page.keyboard.press("ArrowRight")
    page.locator("#id_name").focus()
    page.keyboard.type("Kiln")
    page.keyboard.press("Enter")
    expect(page.locator("[data-which]")).to_have_text("5,7")
    assert page.evaluate("document.activeElement.name") == "name"
    made = panel.circuits.get()
    assert (made.name, made.poles, made.rating_a) == ("Kiln", 2, 25)


def test_it_works_without_script(
    browser: Browser, phone: BrowserContext, panel: Panel, live_server: Any
) -> None:
    context = browser.new_context(
        viewport=PHONE, base_url=live_server.url, java_script_enabled=False
    )
    context.add_cookies(phone.cookies())  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(f"/panels/{panel.pk}/record/")
    page.get_by_role("button", name="Dishwasher").click()
    assert page.locator("[data-which]").inner_text() == "3"
    page.get_by_role("button", name="Undo").click()
    assert page.locator("[data-which]").inner_text() == "1"
    assert not panel.circuits.exists()
    context.close()
