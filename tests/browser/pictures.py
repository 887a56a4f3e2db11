"""Take the README's pictures anew from the demo: `python -m tests.browser.pictures`."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from pathlib import Path

import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from followups.demo import PASSWORD
from tests.browser.conftest import DESK, FLAGS, PHONE, PROGRAM, Run

PICTURES = Path(__file__).resolve().parents[2] / "docs" / "pictures"
PAPER = (251, 248, 241)
GAP = 24
HALF_DESK = {"width": 960, "height": 900}


def main() -> None:
    run = Run(PORT="8240")
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=PROGRAM, args=FLAGS)
            for name, take in TAKE.items():
                _save(name, take(browser, run))
    finally:
        run.stop()


def _window(browser: Browser, run: Run, who: str, size: dict[str, int]) -> Page:
    page = browser.new_context(viewport=size, base_url=run.address).new_page()  # type: ignore[arg-type]
    page.goto("/sign-in/")
    page.get_by_label("E-mail").fill(f"{who}@tallowcreek.example")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda url: "sign-in" not in url)
    return page


def _shot(page: Page, height: int | None = None) -> Image.Image:
    if height:
        page.set_viewport_size({"width": page.viewport_size["width"], "height": height})  # type: ignore[index]
    return Image.open(io.BytesIO(page.screenshot())).convert("RGB")


def _panel(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", DESK)
    _to_panel(page)
    return [_shot(page, 1320)]


def _to_panel(page: Page) -> None:
    page.goto("/sites/?q=193+Sawyer")
    page.get_by_role("link", name="193 Sawyer Court").first.click()
    page.locator("main a[href^='/panels/']", has_text="Main panel").first.click()


def _week(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", DESK)
    page.goto("/week/")
    return [_shot(page)]


def _watch(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "dana", DESK)
    page.goto("/watch/")
    return [_shot(page, 1100)]


def _field(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "marcus", PHONE)
    day = _shot(page)
    page.goto("/sites/?q=Marl+Ridge")
    page.get_by_role("link", name="4216 Marl Ridge Road").first.click()
    page.locator("main a[href^='/panels/']", has_text="Main panel").first.click()
    page.get_by_role("link", name="Record breakers").click()
    record = _shot(page)
    page.goto("/day/")
    page.locator("main a[href^='/visits/']").last.click()
    page.locator("main a[href$='/close-out/']").first.click()
    return [day, record, _shot(page)]


def _directory(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", {"width": 1000, "height": 1250})
    _to_panel(page)
    page.locator("main a[href$='/directory/']").first.click()
    paper = page.locator("main img").first
    paper.scroll_into_view_if_needed()
    paper.evaluate("picture => picture.decode()")
    printed = Image.open(io.BytesIO(paper.screenshot())).convert("RGB")
    address = page.get_by_role("link", name="See that page").get_attribute("href")
    phone = browser.new_context(viewport=PHONE, base_url=run.address).new_page()  # type: ignore[arg-type]
    phone.goto(address or "")
    shown = _shot(phone)
    return [
        printed.resize((int(printed.width * shown.height / printed.height), shown.height)),
        shown,
    ]


def _site(page: Page, street: str) -> str:
    """The address of that site's page."""
    page.goto(f"/sites/?q={street.replace(' ', '+')}")
    page.get_by_role("link", name=street).first.click()
    page.wait_for_url("**/sites/*-*/")
    return page.url


def _load(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", DESK)
    page.goto(f"{_site(page, '193 Sawyer Court')}load/")
    return [_shot(page, 1500)]


def _check(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", HALF_DESK)
    here = _site(page, "193 Sawyer Court")
    page.goto(f"{here}feeders/")
    carried = _shot(page, 1300)
    _to_panel(page)
    page.goto(f"{page.url}check/")
    return [_shot(page, 1300), carried]


def _outage(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", HALF_DESK)
    page.goto(f"{_site(page, '28 Quarry Hill Road')}outage/")
    dark = _shot(page, 1300)
    page.goto(f"{_site(page, '175 Bell Street')}meter/")
    page.locator("main a[href^='/meter/']").first.click()
    return [dark, _shot(page, 1300)]


def _worksheet(browser: Browser, run: Run) -> list[Image.Image]:
    page = _window(browser, run, "priya", DESK)
    page.goto(f"{_site(page, '193 Sawyer Court')}load/")
    kept = page.locator("main a[href^='/calculations/']:not([href*='against'])").first
    printed = page.request.get(f"{kept.get_attribute('href')}worksheet.pdf").body()
    sheets = pypdfium2.PdfDocument(printed)
    return [sheets[number].render(scale=1.3).to_pil() for number in range(min(2, len(sheets)))]


TAKE: dict[str, Callable[[Browser, Run], list[Image.Image]]] = {
    "panel": _panel,
    "week": _week,
    "field": _field,
    "watch": _watch,
    "directory": _directory,
    "load": _load,
    "check": _check,
    "outage": _outage,
    "worksheet": _worksheet,
}


def _save(name: str, shots: list[Image.Image]) -> None:
    """Side by side on paper, in few colours: a picture is looked at, not measured."""
    width = sum(shot.width for shot in shots) + GAP * (len(shots) - 1)
    sheet = Image.new("RGB", (width, max(shot.height for shot in shots)), PAPER)
    left = 0
    for shot in shots:
        sheet.paste(shot, (left, 0))
        left += shot.width + GAP
    sheet.quantize(64).save(PICTURES / f"{name}.png", optimize=True)
    sys.stdout.write(f"docs/pictures/{name}.png\n")


if __name__ == "__main__":
    main()
