"""The technician's day: arrive, record panels, prove the work, have it signed, close the job."""

from __future__ import annotations

import json
from collections.abc import Iterable

from tests.stories.steps import papers
from tests.stories.visitor import Answers, Page, Visitor

STROKES = {
    "width": 320,
    "height": 176,
    "strokes": [[[20, 90], [60, 40], [100, 120], [140, 60]], [[160, 80], [220, 84]]],
}


def go_there(technician: Visitor, street: str) -> Page:
    """From the day to the visit there, and in at the door."""
    page = technician.open("/day/").at(street).follow(street)
    return page.press("I am here").says("You are on site since")


def leave(page: Page) -> Page:
    return page.visitor.open(page.url).press("Leaving").says("is done, left at")


def add_panel(visit: Page, **nameplate: object) -> Page:
    """Record a panel from the visit; what comes is the page to put breakers in."""
    page = visit.visitor.open(visit.url).follow("Record a panel")
    answers = {label.replace("_", " "): value for label, value in nameplate.items()}
    return page.press("Add the panel", answers).says("is on record.")


def put_breaker(record: Page, name: str, *, size: str = "1-pole", amps: int = 20, **more: object):
    """In the space that is next: size, rating, then one of the common names or one's own."""
    choice: dict[str, object] = {"Breaker": size, "rating": str(amps), **more}
    names = [" ".join("".join(one.itertext()).split()) for one in record.root.iter("button")]
    if name in names:
        return record.press(name, choice)
    return record.press("Save", {**choice, "What it serves": name})


def take_in_schedule(panel: Page, name: str, lines: Iterable[Iterable[object]]) -> Page:
    """Bring in a spreadsheet of the panel as far as its preview."""
    page = panel.visitor.open(panel.url).follow("Bring in a schedule")
    return page.press("Read it", {"file": papers.xlsx_list(name, lines)})


LIST = ("Close-out list", "List for close-out", "Open the list")


def line(visit: Page, label: str) -> Page:
    """The close-out list, narrowed to one line."""
    return visit.visitor.open(visit.url).follow(LIST).at(label)


def measure(visit: Page, label: str, panel: str, **values: object) -> Page:
    """Readings for a line of the list, at one of the panels."""
    here = line(visit, label)
    if panel in here.links():
        here = here.follow(panel).at(label)
    return here.press("Record", {name.replace("_", " "): value for name, value in values.items()})


def tick(visit: Page, label: str) -> Page:
    return line(visit, label).press("Done, tick it")


def send_photo(visit: Page, label: str) -> Page:
    return line(visit, label).press("Send", {"photo": papers.photo()}).says("The photo is kept.")


def sign(visit: Page, name: str) -> Page:
    here = line(visit, "Customer’s signature")
    drawn = {"strokes": json.dumps(STROKES)}
    return here.press("Keep the signature", {"Name of the person signing": name}, script=drawn)


def closing(visit: Page) -> Page:
    """The page that says what closing does and what stands in its way."""
    return visit.visitor.open(visit.url).follow(LIST).follow("Close")


def close(visit: Page, answers: Answers | None = None) -> Page:
    return closing(visit).press("Close the job", answers)
