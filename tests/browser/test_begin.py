"""An empty firm, set up by hand: every screen on the way fits, reads well, complains of nothing."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page, expect

from tests.browser.begun import PASSWORD, Begun


def test_the_owner_finds_everything_that_was_set_up(
    begun: Begun, page_of: Callable[..., Page]
) -> None:
    page = page_of(begun.run)
    page.goto("/customers/")
    page.get_by_label("E-mail").fill(begun.owner)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("link", name="Avery Quill")).to_be_visible()  # where one was going
    page.goto("/week/")
    expect(page.locator("main")).to_contain_text("118 Wheelwright Lane")
    page.goto("/start/")
    expect(page.locator("main")).to_contain_text("done")


def test_a_firm_begins_only_once(begun: Begun, page_of: Callable[..., Page]) -> None:
    page = page_of(begun.run)
    page.goto("/begin/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")


def test_the_keyboard_alone_signs_in(begun: Begun, page_of: Callable[..., Page]) -> None:
    """Tab shows where one is, the first stop leads past the masthead, Enter signs in."""
    page = page_of(begun.run)
    page.goto("/sign-in/")
    page.get_by_label("E-mail").focus()
    page.keyboard.type(begun.owner)
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: "sign-in" not in url)
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="Skip to the content")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    reached = []
    for _step in range(40):
        page.keyboard.press("Tab")
        seen = page.evaluate(FOCUS)
        reached.append(seen)
        assert seen["shown"], f"the focus is not seen at {seen['what']}"
        if seen["main"]:
            break
    assert reached[-1]["main"], "the content is never reached"


FOCUS = """() => {
  const at = document.activeElement, look = getComputedStyle(at), box = at.getBoundingClientRect();
  const ring = look.outlineStyle !== 'none' && parseFloat(look.outlineWidth) > 0;
  return {what: at.outerHTML.slice(0, 120), main: !!at.closest('main'),
          shown: (ring || look.boxShadow !== 'none') && box.width > 0 && box.height > 0};
}"""
