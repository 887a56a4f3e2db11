"""The customer, without an account: the code on the door, the search, the check-in answered."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Run, faults, overflows


@pytest.fixture
def door(demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]) -> str:
    """The address behind the code on a panel's door, as the office sees it."""
    page = page_of(demo)
    sign_in(page, "priya")
    page.goto("/sites/?q=193+Sawyer")
    page.get_by_role("link", name="193 Sawyer Court").first.click()
    page.locator("main a[href^='/panels/']", has_text="Main panel").first.click()
    page.locator("main a[href$='/directory/']").first.click()
    return page.get_by_role("link", name="See that page").get_attribute("href") or ""


def test_the_panels_are_read_and_searched_on_a_phone(
    demo: Run, page_of: Callable[..., Page], door: str
) -> None:
    page = page_of(demo, PHONE)
    answer = page.goto(door)
    assert answer
    assert answer.headers["cache-control"].count("no-store") == 1
    assert answer.headers["referrer-policy"] == "no-referrer"
    expect(page.get_by_role("heading", name="Main panel")).to_be_visible()
    expect(page.get_by_role("heading", name="Upstairs panel")).to_be_visible()
    assert not overflows(page)
    assert faults(page) == []
    page.get_by_role("searchbox").fill("dishwasher")
    expect(page.get_by_text("Dishwasher").first).to_be_visible()
    expect(page.get_by_text("Sump pump").first).not_to_be_visible()


def test_a_check_in_is_answered_with_one_tap(
    demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]
) -> None:
    office = page_of(demo)
    sign_in(office, "priya")
    office.goto("/messages/?state=sent&kind=check_in")
    office.get_by_role("link", name="Loose neutral found at the meter").first.click()
    body = office.content()
    link = body.split("/answer/")[1].split('"')[0].split("&")[0].split("?")[0].split()[0]
    page = page_of(demo, PHONE)
    page.goto(f"/answer/{link}?said=wrong")
    assert faults(page) == []
    page.get_by_label("Something is wrong").check()
    page.get_by_label("Anything to add?").fill("The light over the stair flickers.")
    page.get_by_role("button", name="Send my answer").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    assert "/sent" in page.url
    office.goto("/callbacks/")
    expect(office.get_by_text("The light over the stair flickers.").first).to_be_visible()
