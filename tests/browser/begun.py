"""Tallow Creek Electric set up by hand in a browser, from an empty firm to today's service call."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Run, faults, overflows

ZONE = ZoneInfo("America/New_York")
PASSWORD = "a lantern in the barn"
STREET = "118 Wheelwright Lane"


TOO_WIDE = """() => [...document.querySelectorAll('body *')]
  .filter(one => one.getBoundingClientRect().right > innerWidth + 1)
  .map(one => one.outerHTML.slice(0, 80)).slice(0, 8)"""


@dataclass(frozen=True)
class Begun:
    """The run with the firm in it, and who is sent where today."""

    run: Run
    owner: str = "marlow@tallowcreek.example"
    technician: str = "rhys@tallowcreek.example"
    street: str = STREET


def looked_at(page: Page) -> None:
    """What is true of every screen; what lies under a fixed bar is scrolled up by hand."""
    found = [fault for fault in faults(page) if "partially obscured" not in fault]
    assert not found, found
    assert not overflows(page), f"{page.url} is too wide: {page.evaluate(TOO_WIDE)}"


def save(page: Page, words: str = "Save") -> None:
    page.get_by_role("button", name=words, exact=True).click()


def field(page: Page, label: str) -> Locator:
    """The field of this label, which may say that it is optional."""
    return page.get_by_label(re.compile(rf"^\s*{re.escape(label)}(\s+optional)?\s*$"))


def fill(page: Page, **said: str) -> None:
    for label, value in said.items():
        field(page, label.replace("_", " ")).fill(value)


def set_up(page: Page, run: Run) -> Begun:
    begun = Begun(run)
    the_firm(page, begun)
    the_people(page, begun)
    the_customer(page)
    the_job(page)
    return begun


def the_firm(page: Page, begun: Begun) -> None:
    page.goto("/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Set up your firm")
    looked_at(page)
    page.get_by_label("The firm’s name").fill("Tallow Creek Electric")
    fill(page, Your_name="Marlow Venn")
    page.get_by_label("Your e-mail").fill(begun.owner)
    page.get_by_label("Password").fill("short")
    page.get_by_role("button", name="Begin").click()
    expect(page.locator("main")).to_contain_text("at least 12 characters")
    looked_at(page)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Getting started")
    looked_at(page)
    page.get_by_role("link", name="Say who you are").first.click()
    fill(page, Contractor_licence_number="EL-40871", Phone="614-555-0142")
    looked_at(page)
    save(page)
    expect(page.get_by_text("The firm’s settings are saved.")).to_be_visible()


def the_people(page: Page, begun: Begun) -> None:
    page.goto("/people/")
    page.get_by_role("link", name="Add a person").click()
    fill(page, Name="Rhys Okafor")
    page.get_by_label("E-mail").fill(begun.technician)
    page.get_by_label("technician:").check()
    looked_at(page)
    save(page)
    page.get_by_role("link", name="Add a licence").click()
    page.get_by_label("Grade").select_option("journeyman")
    fill(page, Licence_number="J-4001")
    save(page)
    page.goto("/crews/add/")
    fill(page, Name="Creek crew")
    page.get_by_role("checkbox", name="Rhys Okafor").check()
    looked_at(page)
    save(page)
    expect(page.locator("main")).to_contain_text("Creek crew")


def the_customer(page: Page) -> None:
    page.goto("/customers/")
    page.locator("main").get_by_role("link", name="Add a customer").first.click()
    fill(page, Name="Avery Quill")
    page.get_by_label("E-mail").fill("avery.quill@mail.example")
    looked_at(page)
    save(page)
    page.get_by_role("link", name="Add a site").first.click()
    fill(page, Street=STREET, City="Harrow Mills")
    field(page, "State").select_option("OH")
    fill(page, ZIP_code="43099")
    field(page, "Gate, key and parking").fill("Gate code at the left post")
    looked_at(page)
    save(page)


def the_job(page: Page) -> None:
    """A service call now, insisting where the hour or the day speaks against it."""
    page.goto("/jobs/new/")
    page.get_by_role("link", name=STREET).click()
    page.get_by_label("What is to be done").fill("Lights in the hall flicker")
    page.get_by_label("Service call").check()
    looked_at(page)
    page.get_by_role("button", name="Book it").click()
    page.get_by_role("link", name="Plan Service call").click()
    starts = dt.datetime.now(ZONE) + dt.timedelta(minutes=2)
    page.get_by_label("Day", exact=True).fill(str(starts.date()))
    page.get_by_label("Starts").fill(f"{starts:%H:%M}")
    page.get_by_label("Starts").press("Tab")
    page.wait_for_load_state("networkidle")
    looked_at(page)
    for reason in page.get_by_label("Insist, because").all():
        reason.fill("The customer asked for it now.")
    page.get_by_role("button", name="Put it on the plan").click()
    expect(page.get_by_text("is planned.")).to_be_visible()
    looked_at(page)
