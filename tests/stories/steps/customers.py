"""Customers and their sites come in from the list the office kept so far."""

from __future__ import annotations

from tests.stories.steps import papers
from tests.stories.visitor import Page, Visitor

HOME = "118 Wheelwright Lane"
SHOP = "7 Foundry Court"
CUSTOMER = "avery.quill@mail.example"
NEIGHBOUR = "rowan@sedge.example"
ROWS: list[dict[str, object]] = [
    {
        "Customer": "Avery Quill", "Customer number": "1001", "Phone": "614-555-0143",
        "E-mail": CUSTOMER, "Site street": HOME, "Site city": "Harrow Mills", "Site state": "OH",
        "Site ZIP": "43099", "Authority": "City of Harrow Mills, Building Division",
        "Utility": "Marl River Light and Power", "Latitude": "40.051", "Longitude": "-82.951",
        "Time zone": "America/Chicago", "Access": "Gate code at the left post",
        "Pets": "One old dog, friendly",
    },
    {
        "Customer": "Rowan Sedge", "Customer number": "1002", "Phone": "740-555-0118",
        "E-mail": NEIGHBOUR, "Site street": SHOP, "Site city": "Harrow Mills", "Site state": "OH",
        "Site ZIP": "43099", "Authority": "City of Harrow Mills, Building Division",
        "Utility": "Marl River Light and Power",
    },
]  # fmt: skip
BAD: dict[str, object] = {
    "Customer": "Tern Hollow Rentals", "Customer number": "1003", "Phone": "555-0118",
    "Site street": "9 Foundry Court", "Site city": "Harrow Mills", "Site state": "OH",
    "Site ZIP": "73099",
}  # fmt: skip
MENDED = BAD | {"Phone": "740-555-0119", "Site ZIP": "43099"}


def read(office: Visitor, rows: list[dict[str, object]]) -> Page:
    """Choose the file and look at what would happen."""
    page = office.open("/customers/").follow("Bring in a list")
    return page.press("Read it", {"Your list": papers.csv_list("customers.csv", rows)})
