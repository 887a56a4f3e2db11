"""The coordinator at a desk: book a job, plan against a refusal, see the week, take it back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from zoneinfo import ZoneInfo

from playwright.sync_api import Page, expect

from tests.browser.begun import looked_at
from tests.browser.conftest import Run

STREET = "148 Ferry Street"


def far_monday() -> dt.date:
    """A Monday on which the invented firm has planned nothing yet."""
    today = dt.datetime.now(ZoneInfo("America/New_York")).date()
    return today + dt.timedelta(days=35 - today.weekday())


def test_a_job_is_booked_and_planned_against_a_refusal(
    demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]
) -> None:
    page = page_of(demo)
    sign_in(page, "priya")
    page.goto("/jobs/new/")
    page.get_by_label("Customer, street or phone number").fill("148 Ferry")
    page.keyboard.press("Enter")
    page.get_by_role("link", name=STREET).click()
    page.get_by_label("What is to be done").fill("Main panel and shed subpanel")
    page.get_by_label("Panel replacement with subpanel").check()
    looked_at(page)
    page.get_by_role("button", name="Book it").click()
    expect(page.get_by_text("is booked.")).to_be_visible()
    looked_at(page)
    job = page.url

    page.get_by_role("link", name="Plan Rough-in").click()
    day = far_monday()
    page.get_by_label("Crew", exact=True).select_option("River crew")
    page.get_by_label("Day", exact=True).fill(str(day))
    page.get_by_label("Starts").fill("08:00")
    page.get_by_label("Starts").press("Tab")
    against = page.locator("#consequence")  # comes by itself, before anything is pressed
    expect(against).to_contain_text("Rough-in waits for: permit.")
    looked_at(page)
    page.get_by_role("button", name="Put it on the plan").click()
    expect(page.locator(".error-summary")).to_contain_text("Rough-in waits for: permit.")
    page.goto(job)
    expect(page.locator("article.visit", has_text="Rough-in").first).to_contain_text("waits")

    page.get_by_role("link", name="Plan Rough-in").click()
    page.get_by_label("Crew", exact=True).select_option("River crew")
    page.get_by_label("Day", exact=True).fill(str(day))
    page.get_by_label("Starts").fill("08:00")
    page.get_by_label("Starts").press("Tab")
    page.get_by_label("Insist, because").first.fill("The permit was promised by phone.")
    page.get_by_role("button", name="Put it on the plan").click()
    expect(page.get_by_text("is planned.")).to_be_visible()
    expect(page.locator("main")).to_contain_text("The permit was promised by phone.")

    page.goto(f"/week/?from={day}")
    expect(page.locator("main")).to_contain_text(STREET)
    looked_at(page)
    page.goto(job)
    page.get_by_role("link", name="Move").first.click()
    ends = page.get_by_label("Ends").input_value()
    page.get_by_label("Starts").fill("09:30")
    page.get_by_label("Starts").press("Tab")
    moved = 90 + int(ends[:2]) * 60 + int(ends[3:])
    expect(page.get_by_label("Ends")).to_have_value(f"{moved // 60:02}:{moved % 60:02}")
    page.goto(job)
    page.get_by_role("button", name="Take off the plan").click()
    expect(page.get_by_text("is off the plan.")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("is back as it was.")).to_be_visible()


def test_the_close_out_record_prints_without_the_way_around_it(
    demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]
) -> None:
    page = page_of(demo)
    sign_in(page, "priya")
    page.goto("/jobs/?state=closed")
    page.locator("main tbody a").first.click()
    page.goto(f"{page.url}close-out/record/")
    around = [page.locator("header.masthead"), page.locator(".page-actions").first]
    for part in around:
        expect(part).to_be_visible()
    page.emulate_media(media="print")
    for part in around:
        expect(part).to_be_hidden()
    expect(page.locator(".print-head")).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
