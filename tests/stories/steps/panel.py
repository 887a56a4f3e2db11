"""The technician records a home: a 42-space main, a 24-space subpanel, a battery, its loads."""

from __future__ import annotations

from tests.stories.steps import customers, field, papers
from tests.stories.visitor import Page

SHEET = [
    ["Panel schedule, 118 Wheelwright Lane"],
    ["No", "Description", "Breaker", "Kind", "No", "Description", "Breaker"],
    ["1,3", "Range", "50/2", "", "2,4", "Water heater", "30/2"],
    ["5,7", "Dryer", "30/2", "", "6,8", "Air conditioner", "40/2"],
    ["9", "Kitchen counter, left", "20", "", "10", "Dishwasher", "20"],
    ["11,13", "Garage panel", "100/2", "feeder", "12", "Disposer", "20"],
    ["15", "Microwave", "20", "", "14", "Refrigerator", "20"],
    ["17", "Bathroom receptacles", "20", "", "16", "Laundry receptacle", "20"],
    ["19", "Smoke alarms", "15", "", "18", "Furnace", "20"],
    ["21a", "Hall lights", "15", "", "20", "Front bedroom", "15"],
    ["21b", "Porch light", "15", "", "22", "Back bedroom", "15"],
    ["23", "Living room", "15", "", "24", "Outdoor receptacles", "20"],
    ["25", "Basement lights", "15", "", "26", "Attic lights", "15"],
    ["27", "Kitchen lights", "15", "", "28", "Kitchen counter, right", "20"],
    ["29", "Sump pump", "20", "", "30", "Freezer", "20"],
    ["31", "Spare", "20", "", "32", "Spare", "20"],
    ["33", "Space", "", "", "34", "Surge protector", "50"],
    ["35", "Doorbell", "15", "", "36", "Space", ""],
]


def at_home(visit: Page, name: str) -> Page:
    """The panel of that name at the site of the visit."""
    return visit.visitor.open(visit.url).under("Panels").follow(name)


def record_main(visit: Page) -> None:
    page = field.add_panel(
        visit,
        **{"Name": "Main panel", "Location": "Basement, north wall", "Panel rating, A": 200,
           "Main breaker, A": 200, "Bus rating, A": 225, "Short-circuit rating, kA": 22,
           "Spaces": 42, "Spaces that take a tandem": "21-42", "Feed-through lugs": True,
           "Where the directory is": "Inside the door"},
    )  # fmt: skip
    page.says("42 free")
    page = field.put_breaker(page, "Range", size="2-pole", amps=50).says("1,3 Range, 50 A")
    page = field.put_breaker(page, "Dryer", size="2-pole", amps=30).says("5,7 Dryer, 30 A")
    page = field.put_breaker(page, "Kitchen counter, left").says("9 Kitchen counter, left, 20 A")
    feeder = {"What hangs on it": "feeder"}
    page = field.put_breaker(page, "Garage panel", size="2-pole", amps=100, **feeder)
    page.says("11,13 Garage panel, 100 A", "35 free")


def record_sub(visit: Page) -> None:
    page = field.add_panel(
        visit,
        **{"Name": "Garage panel", "Location": "Garage, left of the door", "Panel rating, A": 100,
           "Spaces": 24, "Fed from": "Main panel, 11,13"},
    )  # fmt: skip
    page = field.put_breaker(page, "Vehicle supply", size="2-pole", amps=40)
    page = field.put_breaker(page, "Garage receptacles")
    at_home(visit, "Garage panel").says("Fed from Main panel, 11,13, 100 A")


def try_what_cannot_be(visit: Page) -> None:
    """Each is refused as it is typed, in words, and the record stays as it was."""
    main = at_home(visit, "Main panel")
    before = main.text
    breaker = main.follow("Range")
    for spaces, told in {
        "1,5": "Spaces 1 and 5 are not neighbours in one column",
        "5,7": "Space 5 is taken: Dryer, 30 A, sits in 5,7.",
        "41,43": "This panel has spaces 1 to 42; there is no space 43.",
    }.items():
        breaker.press("Save", {"Spaces": spaces}, expect=422).says(told)

    sub = at_home(visit, "Garage panel").follow("Record breakers")
    back = field.put_breaker(
        sub, "Back again", size="2-pole", amps=60, **{"What hangs on it": "feeder"}
    )
    loop = main.follow("Correct the panel")
    loop.press("Save", {"Fed from": "Garage panel, 7,9"}, expect=422).says("would close a loop")
    back.press("Undo").says("Taken back")
    assert at_home(visit, "Main panel").text == before


def take_in_the_rest(visit: Page) -> None:
    """A spreadsheet with a space taken twice does nothing at all; mended, it does all of it."""
    main = at_home(visit, "Main panel")
    before = main.text
    wrong = field.take_in_schedule(
        main, "main.xlsx", [*SHEET, ["7", "Sauna", "20", "", "", "", ""]]
    )
    wrong.says("Line 19 Space", "puts Dryer into 5,7 already").lacks("Take in")
    assert main.visitor.open(main.url).text == before
    right = field.take_in_schedule(main, "main.xlsx", SHEET).says("4 Breakers unchanged")
    taken = right.press("Take in").says("The schedule is taken in.", "30 breakers on record")
    taken.says("Hall lights", "Porch light", "to Garage panel", "Surge protector", "Spare", "Space")
    field.take_in_schedule(main, "main.xlsx", SHEET).says("Taking it in would change nothing.")


def add_the_battery(visit: Page) -> None:
    page = at_home(visit, "Garage panel").follow("Record breakers")
    source = {"What hangs on it": "source"}
    field.put_breaker(page, "Garage battery", size="2-pole", amps=40, **source)
    site = visit.visitor.open(visit.url).follow(customers.HOME)
    site.follow("Add a source").press(
        "Add the source",
        {"Kind": "battery storage", "Name": "Garage battery", "Connected at": "Garage panel, 7,9",
         "Location": "Garage, east wall", "Where its disconnect is": "Beside the meter",
         "Rated output, A": "32", "Usable energy, kWh": "10"},
    ).says("Garage battery is on record.")  # fmt: skip
    backup = visit.visitor.open(site.url).follow("Backed-up circuits")
    backup.press(
        "Save all",
        {"Refrigerator 14, 20 A": True, "Furnace 18, 20 A": True, "Shed order of Furnace, 18": "1"},
    ).says("Circuits changed: 2.")
    visit.visitor.open(visit.url).says("More than one source.", "Disconnect: Beside the meter")


def describe_home(load: Page) -> Page:
    """1,500 square feet, a 12 kW range and a 5.5 kW dryer."""
    load.follow("Describe the home").press(
        "Save",
        {"Floor area, ft²": "1500", "Small-appliance circuits": "2", "Laundry circuits": "1"},
    )
    for kind, kilowatts in (("range", "12"), ("clothes dryer", "5.5")):
        page = load.visitor.open(load.url)
        page.press("Add", {"Kind": kind, "Nameplate": kilowatts, "Unit": "kW"})
    return load.visitor.open(load.url)


def keep_calculation(load: Page, method: str, permit: str) -> Page:
    answers = {"Method": method, "What it is for": f"permit {permit}"}
    return load.visitor.open(load.url).press("Keep it", answers).says("Kept as it is.")


def issue_main_directory(visit: Page) -> str:
    """Print the letter page and the door card; the address that the code on them opens."""
    page = at_home(visit, "Main panel").follow("Directory").says("No directory of this panel")
    page = page.press("Issue revision 1").says("Revision 1 is issued.")
    for paper in ("Letter page", "Door card"):
        (sheet,) = papers.pdf_pages(visit.visitor.get(page.link(paper)))
        for words in (
            "Basement, north wall", "Main breaker 200 A", "Fed by the service", "1 2 Range 50 2P",
            "30 2P Water heater", "Garage panel (feeder) 100 2P", "21a Hall lights 15",
            "Furnace (backed up, sheds 1)", "spare 20 31 32 20 spare", "space 41 42 space",
            "Garage battery: Beside the meter", "Rhys Okafor", "Dec. 11, 2026", "REV 1",
            "CAUTION", "EL-40871",
        ):  # fmt: skip
            assert words in sheet, (paper, words, sheet)
    return page.link("See that page")
