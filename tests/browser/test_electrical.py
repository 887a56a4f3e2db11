"""A technician in a basement: does a vehicle supply fit, and the worksheet of it."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.begun import looked_at
from tests.browser.conftest import PHONE, Run

SITE = "4216 Marl Ridge Road"


@pytest.fixture
def page(demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]) -> Page:
    """A technician's phone at a site with two panels."""
    page = page_of(demo, PHONE)
    sign_in(page, "marcus")
    page.goto("/sites/")
    page.get_by_role("link", name=SITE).first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(SITE)
    return page


def test_a_vehicle_supply_is_tried_listed_and_kept(page: Page) -> None:
    page.get_by_role("link", name="Will it fit?").click()
    page.get_by_role("link", name="Vehicle supply, 48 A").click()
    answer = page.locator("#answer")
    expect(answer).to_contain_text(re.compile("It fits|It does not fit"))
    looked_at(page)
    answer.get_by_role("button", name="Put it on the list as new").click()
    expect(page.locator("#loads")).to_contain_text("being added")
    page.get_by_role("group", name="Method").get_by_role("radio").first.check()
    page.locator("#keep").get_by_role("button", name="Keep it").click()
    sheet = page.get_by_role("link", name="Worksheet (PDF)")
    paper = page.request.get(sheet.get_attribute("href") or "")
    assert paper.body().startswith(b"%PDF")
    looked_at(page)
    page.get_by_role("link", name=re.compile(SITE)).first.click()
    worked_out = page.get_by_role("region", name="Worked out for this site")
    expect(worked_out.get_by_role("listitem").first).to_contain_text("A")
