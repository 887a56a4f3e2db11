"""Every page each role can reach by links, on a phone and at a desk: whole, legible, in order."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import urlsplit

import pytest
from django.urls import Resolver404, resolve
from playwright.sync_api import Page

from tests.browser.conftest import DESK, PHONE, Run, faults, overflows

# The first pages of each role; the rest is found by following links.
HOMES = {"dana": "/watch/", "priya": "/week/", "marcus": "/day/"}
# Sites each role has on which everything is recorded: looked at first, for what hangs on them.
FULL = {
    "dana": ("175 Bell Street", "193 Sawyer Court"),
    "priya": ("175 Bell Street", "193 Sawyer Court"),
    "marcus": ("4216 Marl Ridge Road",),
}
ELECTRICAL = {
    "load", "fit", "meter", "feeders", "fault", "service", "backup", "outage", "panel", "readings",
    "panel-check", "balance", "circuit", "circuit-conductor", "source",
}  # fmt: skip
PLENTY = 150  # kinds of pages of one role: more would be a walk without end
PAPERS = (".pdf", ".csv", ".svg", ".jpg", ".ics")
NOT_PAGES = {"photo"}  # a picture, shown by the browser itself


def full_sites(page: Page, who: str) -> list[str]:
    """The addresses of that role's full sites, as the list of sites gives them."""
    found = []
    for street in FULL[who]:
        page.goto(f"/sites/?q={street.replace(' ', '+')}")
        link = page.get_by_role("link", name=street).first
        found.append(link.get_attribute("href") or "")
    return found


def follow(page: Page, first: list[str]) -> dict[str, str]:
    """One address of every kind of page (url name) that links lead to, from the first pages on."""
    seen: dict[str, str] = {}
    waiting = list(first)
    while waiting and len(seen) < PLENTY:
        address = waiting.pop(0)
        kind = _kind(address)
        if kind is None or kind in seen or kind in NOT_PAGES:
            continue
        seen[kind] = address
        page.goto(address)
        waiting += page.eval_on_selector_all(
            "a[href^='/']", "links => links.map(link => link.getAttribute('href'))"
        )
    return seen


def _kind(address: str) -> str | None:
    path = urlsplit(address).path
    if path.endswith(PAPERS):
        return None
    try:
        return resolve(path).url_name
    except Resolver404:
        return None


@pytest.mark.parametrize("who", HOMES)
def test_every_page_is_whole_on_a_phone_and_at_a_desk(
    demo: Run,
    page_of: Callable[..., Page],
    sign_in: Callable[[Page, str], None],
    who: str,
) -> None:
    page = page_of(demo, PHONE)
    sign_in(page, who)
    sites = full_sites(page, who)
    addresses = follow(page, [f"{sites[0]}meter/", sites[-1], HOMES[who]])
    assert ELECTRICAL - set(addresses) == set()
    wrong: list[str] = []
    for address in addresses.values():
        answer = page.goto(address)
        assert answer
        if answer.status != 200:
            wrong.append(f"{address} answers {answer.status}")
            continue
        if not page.title().strip():
            wrong.append(f"{address} has no title")
        if page.locator("h1").count() != 1:
            wrong.append(f"{address} has {page.locator('h1').count()} first headings")
        if overflows(page):
            wrong.append(f"{address} is wider than a phone")
        page.set_viewport_size(DESK)  # type: ignore[arg-type]
        if overflows(page):
            wrong.append(f"{address} is wider than a desk")
        wrong += faults(page)
        page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    assert wrong == []


@pytest.mark.parametrize("who", HOMES)
def test_the_first_page_is_worked_by_keyboard(
    demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None], who: str
) -> None:
    page = page_of(demo)
    sign_in(page, who)
    page.goto(HOMES[who])
    page.keyboard.press("Tab")
    first = page.evaluate("document.activeElement.textContent.trim()")
    assert first, "the first tab stop is the way past the menu"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#main" or page.evaluate(
        "document.activeElement.closest('main') !== null"
    )
    page.keyboard.press("Tab")
    ring = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert ring != "none", "where the keyboard is can be seen"


def test_paper_has_no_menu(
    demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]
) -> None:
    page = page_of(demo)
    sign_in(page, "priya")
    page.goto("/jobs/?state=closed")
    page.locator("main tbody a").first.click()
    page.get_by_role("link", name="Close-out record").first.click()
    assert page.locator("nav").first.is_visible()
    page.emulate_media(media="print")
    assert not page.locator("nav").first.is_visible()
    assert page.get_by_role("heading", level=1).is_visible()
