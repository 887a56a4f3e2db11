"""The owner and the office set up Tallow Creek Electric from nothing."""

from __future__ import annotations

import datetime as dt

from tests.stories.visitor import Page, Visitor

PASSWORD = "a lantern in the barn"
OWNER = "marlow@tallowcreek.example"
COORDINATOR = "dana@tallowcreek.example"
TECHNICIAN = "rhys@tallowcreek.example"
APPRENTICE = "tamsin@tallowcreek.example"
EXPIRING = "ivo@tallowcreek.example"


def begin() -> Visitor:
    """The first to come to an empty firm is its owner."""
    owner = Visitor()
    page = owner.open("/").says("Set up your firm")
    page.press(
        "Begin",
        {"The firm’s name": "Tallow Creek Electric", "Your name": "Marlow Venn",
         "Your e-mail": OWNER, "Password": PASSWORD},
    ).says("Getting started")  # fmt: skip
    return owner


def describe_the_firm(owner: Visitor) -> None:
    """Licence, address, zone and hours; what cannot be is said at its field and nothing saved."""
    page = owner.open("/firm/")
    about = {
        "Licence number": "EL-40871", "E-mail": "office@tallowcreek.example",
        "Street": "12 Mill Race", "City": "Harrow Mills", "State": "OH", "ZIP code": "43099",
        "Working days": ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"],
    }  # fmt: skip
    refused = page.press("Save", {**about, "Phone": "555-01"}, expect=422)
    refused.says("phone")
    page.press("Save", {**about, "Phone": "614-555-0142"}).says("The firm’s settings are saved.")


def keep_lists(owner: Visitor) -> None:
    """Who inspects, who cuts the power."""
    page = owner.open("/lists/authorities/").follow("Add an authority")
    page.press(
        "Save",
        {"Name": "City of Harrow Mills, Building Division", "Phone": "614-555-0150",
         "A permit stays good for days": "180", "counted from": "day it was issued"},
    )  # fmt: skip
    page = owner.open("/lists/utilities/").follow("Add a utility")
    page.press("Save", {"Name": "Marl River Light and Power", "Phone": "614-555-0160"})


def hire(by: Visitor, name: str, email: str, role: str) -> Page:
    """Someone new, who gets a mail with which to set a password; their page."""
    page = by.open("/people/").follow("Add a person")
    return page.press("Save", {"Name": name, "E-mail": email, "Role": role})


def licensed(page: Page, grade: str, number: str, until: dt.date) -> Page:
    paper = page.follow("Add a licence")
    answers = {"Grade": grade, "Number": number, "State": "OH", "Good until": str(until)}
    return paper.press("Save", answers).says(number)


def make_up_crew(by: Visitor, name: str, people: list[str], lead: str) -> None:
    page = by.open("/people/").follow("Add a crew")
    page.press("Save", {"Name": name, "People": people, "Lead": lead}).says(name)
