"""The owner's page: each number opens its list, and the list is as long as the number says."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import urlsplit

from playwright.sync_api import Page

from tests.browser.conftest import Run

ROWS = "main tbody tr, main ul.links > li, main ol.history > li"


def test_each_number_opens_a_list_of_that_length(
    demo: Run, page_of: Callable[..., Page], sign_in: Callable[[Page, str], None]
) -> None:
    page = page_of(demo)
    sign_in(page, "dana")
    page.goto("/watch/")
    tallies = page.locator("ul.tallies a")
    told = [(tally.get_attribute("href") or "", tally.inner_text()) for tally in tallies.all()]
    assert len(told) >= 8
    for address, words in told:
        number = int(words.split()[0].replace(",", ""))
        page.goto(address)
        if number == 0:
            assert page.locator("main .empty").count() == 1, f"{words}: says what to do next"
        else:
            part = urlsplit(address).fragment  # a list that shares its page with others
            rows = f"#{part} li" if part else ROWS
            assert page.locator(rows).count() == number, f"{words} at {address}"
