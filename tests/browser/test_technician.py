"""A technician's day on a phone: invited by mail, on site, a panel recorded, signed and closed."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page, expect

from tests.browser.begun import PASSWORD, Begun, looked_at
from tests.browser.conftest import PHONE, overflows


def test_a_service_call_from_the_invitation_to_the_signature(
    begun: Begun, page_of: Callable[..., Page]
) -> None:
    page = page_of(begun.run, PHONE)
    accept_invitation(page, begun)
    expect(page.locator("main")).to_contain_text(begun.street)
    looked_at(page)
    without_a_signal(page)
    page.get_by_role("link", name=begun.street).click()
    expect(page.locator("main")).to_contain_text("Gate code at the left post")
    looked_at(page)
    page.get_by_role("button", name="I am here").click()
    expect(page.get_by_text("You are on site since")).to_be_visible()
    visit = page.url
    record_a_panel(page)
    close_out(page, visit)


def accept_invitation(page: Page, begun: Begun) -> None:
    """The mail is caught by the run itself and read on its page."""
    mails = page.context.new_page()
    for _try in range(30):
        mails.goto(begun.run.mails)
        if mails.get_by_text("Your way in").count():
            break
        mails.wait_for_timeout(1000)
    mails.get_by_text("Your way in").first.click()
    mails.get_by_text("Set your password here").first.wait_for(state="attached")
    words = mails.content()
    path = "/password/" + words.split("/password/")[1].split('"')[0].split("<")[0].split()[0]
    page.goto(path)
    looked_at(page)
    page.get_by_label("New password").fill(PASSWORD)
    page.get_by_role("button", name="Set it").click()
    page.goto("/sign-in/")
    page.get_by_label("E-mail").fill(begun.technician)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/day/")


def without_a_signal(page: Page) -> None:
    """The page says so by itself, and takes it back."""
    told = page.get_by_text("No signal.")
    expect(told).to_be_hidden()
    page.context.set_offline(True)
    expect(told).to_be_visible()
    page.context.set_offline(False)
    expect(told).to_be_hidden()


def record_a_panel(page: Page) -> None:
    page.get_by_role("link", name="Record a panel").first.click()
    page.get_by_label("Name", exact=True).fill("Main panel")
    page.get_by_label("Panel rating, A").fill("200")
    page.get_by_label("Main breaker, A").fill("200")
    page.get_by_label("Spaces", exact=True).fill("42")
    looked_at(page)
    page.get_by_role("button", name="Add the panel").click()
    expect(page.locator("[data-which]")).to_have_text("1")
    assert not overflows(page)
    # Three taps for a two-pole breaker, one for the usual one: the next space is there by itself.
    page.get_by_role("radio", name="2-pole", exact=True).check()
    page.get_by_role("radio", name="50", exact=True).check()
    page.get_by_role("button", name="Range", exact=True).click()
    expect(page.locator("[data-which]")).to_have_text("5,7")
    page.get_by_role("radio", name="1-pole", exact=True).check()
    page.get_by_role("radio", name="20", exact=True).check()
    page.get_by_role("button", name="Dishwasher").first.click()
    expect(page.locator("[data-which]")).to_have_text("7")
    page.get_by_role("link", name="Whole schedule").click()
    expect(page.locator("main")).to_contain_text("2 breakers on record")
    assert not overflows(page)


def close_out(page: Page, visit: str) -> None:
    page.goto(visit)
    page.get_by_role("link", name="Close-out list").click()
    looked_at(page)
    page.get_by_label("What is to be kept").fill("Loose neutral in the hall, made up again.")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("main")).to_contain_text("written")
    line = page.locator("li.line", has_text="Customer’s signature")
    if line.locator("details").first.get_attribute("open") is None:
        line.locator("summary").first.click()
    line.get_by_label("Name of the person signing").fill("Avery Quill")
    draw(page, line.locator("canvas"))
    line.get_by_role("button", name="Keep the signature").click()
    expect(line).to_contain_text("signed")
    looked_at(page)
    page.get_by_role("link", name="Close the job").click()
    looked_at(page)
    issue = page.get_by_label("Issue these directories now")
    if issue.count():
        issue.check()
    page.get_by_role("button", name="Close the job").click()
    expect(page.get_by_text("is closed.")).to_be_visible()
    expect(page.get_by_role("img", name="Signature")).to_be_visible()
    looked_at(page)


def draw(page: Page, canvas: object) -> None:
    """A few strokes with the finger, here the mouse."""
    canvas.scroll_into_view_if_needed()  # type: ignore[attr-defined]
    box = canvas.bounding_box()  # type: ignore[attr-defined]
    across, down = box["width"], box["height"]
    page.mouse.move(box["x"] + 0.1 * across, box["y"] + 0.6 * down)
    page.mouse.down()
    for right, low in ((0.2, 0.3), (0.35, 0.7), (0.5, 0.3), (0.7, 0.6)):
        page.mouse.move(box["x"] + right * across, box["y"] + low * down, steps=6)
    page.mouse.up()
