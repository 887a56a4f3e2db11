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
        "Contractor licence number": "EL-40871", "E-mail": "office@tallowcreek.example",
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
         "Days a permit stays good": "180", "Counted from": "the day of issue"},
    )  # fmt: skip
    page = owner.open("/lists/utilities/").follow("Add a utility")
    page.press(
        "Save",
        {"Name": "Marl River Light and Power", "Phone for cut and reconnect": "614-555-0160"},
    )


def hire(by: Visitor, name: str, email: str, role: str) -> Page:
    """Someone new, who gets a mail with which to set a password; their page."""
    page = by.open("/people/").follow("Add a person")
    return page.press("Save", {"Name": name, "E-mail": email, "Role": role})


def licensed(page: Page, grade: str, number: str, until: dt.date) -> Page:
    paper = page.follow("Add a licence")
    answers = {"Grade": grade, "Licence number": number, "State": "OH", "Last day good": str(until)}
    return paper.press("Save", answers).says(number)


def make_up_crew(by: Visitor, name: str, people: list[str], lead: str) -> None:
    page = by.open("/people/").follow("Add a crew")
    page.press("Save", {"Name": name, "People": people, "Lead": lead}).says(name)


def hire_everyone(owner: Visitor) -> None:
    """The coordinator, a journeyman with an apprentice, and one whose licence runs out soon."""
    hire(owner, "Dana Whitlock", COORDINATOR, "office coordinator")
    lead = hire(owner, "Rhys Okafor", TECHNICIAN, "technician")
    licensed(lead, "journeyman", "J-4001", dt.date(2027, 6, 30))
    learner = hire(owner, "Tamsin Reed", APPRENTICE, "technician")
    licensed(learner, "apprentice", "A-9001", dt.date(2027, 6, 30))
    other = hire(owner, "Ivo Larch", EXPIRING, "technician")
    licensed(other, "journeyman", "J-3777", dt.date(2026, 12, 4))
    make_up_crew(owner, "Creek crew", ["Rhys Okafor", "Tamsin Reed"], lead="Rhys Okafor")
    make_up_crew(owner, "Mill crew", ["Ivo Larch"], lead="Ivo Larch")


def adopt_an_edition(owner: Visitor) -> None:
    """The edition of the code that the town works by, and where that is written."""
    page = owner.open("/adoptions/").follow("Record an adoption")
    page.press(
        "Save",
        {"Authority having jurisdiction": "City of Harrow Mills", "In force since": "2019-07-01",
         "Edition": "NFPA 70-2017", "Where this is written": "Town ordinance 1182, section 4"},
    ).says("2017 is on record.")  # fmt: skip
