"""Which columns does a list of customers and sites have, and what are they called elsewhere?"""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from contractor.lists.columns import Column
from contractor.lists.writing import write

CUSTOMER = {
    "list_key": "list_key",
    "name": "name",
    "phone": "phone",
    "email": "email",
    "billing_street": "street",
    "billing_city": "city",
    "billing_state": "state",
    "billing_zip": "zip",
    "notes": "notes",
}
SITE = {
    "street": "street",
    "city": "city",
    "state": "state",
    "zip": "zip",
    "label": "label",
    "authority": "authority",
    "utility": "utility",
    "latitude": "latitude",
    "longitude": "longitude",
    "time_zone": "time_zone",
    "access_notes": "access_notes",
    "pet_notes": "pet_notes",
}

COLUMNS = [
    Column(
        "name", "Customer", ("name", "customer name", "client", "client name", "full name"),
        required=True, says=_("who the customer is"),
    ),
    Column(
        "list_key", "Customer number",
        ("number", "id", "customer id", "account", "account number", "account no", "customer no"),
        says=_("your own number, so that the list can be brought in again"),
    ),
    Column(
        "phone", "Phone", ("telephone", "phone number", "mobile", "cell", "cell phone"),
        says=_("with area code"),
    ),
    Column("email", "E-mail", ("email", "mail", "email address", "e mail address")),
    Column(
        "street", "Site street", ("street", "address", "site address", "service address",
        "street address", "address 1", "address line 1", "job address"),
        says=_("where the panel is; leave empty for a customer without a site"),
    ),
    Column("city", "Site city", ("city", "town", "service city")),
    Column("state", "Site state", ("state", "st", "service state"), says=_("two letters")),
    Column("zip", "Site ZIP", ("zip", "zip code", "zipcode", "postal code", "service zip")),
    Column("label", "Site name", ("site", "label", "building", "location name")),
    Column(
        "authority", "Authority",
        ("ahj", "authority having jurisdiction", "jurisdiction", "permit office"),
        says=_("as it is called in your list of authorities"),
    ),
    Column(
        "utility", "Utility", ("power company", "electric utility", "utility company"),
        says=_("as it is called in your list of utilities"),
    ),
    Column("latitude", "Latitude", ("lat",), says=_("decimal degrees, if you have them")),
    Column("longitude", "Longitude", ("long", "lng", "lon")),
    Column("time_zone", "Time zone", ("timezone", "tz"), says=_("such as America/New_York")),
    Column("access_notes", "Access", ("access notes", "gate", "gate code", "access instructions")),
    Column("pet_notes", "Pets", ("pet notes", "pet", "dogs")),
    Column(
        "billing_street", "Billing street",
        ("billing address", "mailing address", "mailing street"),
    ),
    Column("billing_city", "Billing city", ("mailing city",)),
    Column("billing_state", "Billing state", ("mailing state",)),
    Column("billing_zip", "Billing ZIP", ("billing zip code", "mailing zip")),
    Column("notes", "Notes", ("note", "remarks", "comments", "customer notes")),
]  # fmt: skip

# Blank and filled cells, two sites of one customer, and a customer without a site.
_EXAMPLE = [
    {
        "name": "Avery Quill", "list_key": "1001", "phone": "614-555-0142",
        "email": "avery.quill@mail.example", "street": "118 Wheelwright Lane",
        "city": "Harrow Mills", "state": "OH", "zip": "43099",
        "access_notes": "Gate code at the left post", "pet_notes": "One old dog",
    },
    {
        "name": "Tern Hollow Rentals", "list_key": "1002", "phone": "740-555-0118",
        "street": "7 Foundry Court", "city": "Harrow Mills", "state": "OH", "zip": "43099",
        "label": "Upper flat", "billing_street": "PO Box 20", "billing_city": "Harrow Mills",
        "billing_state": "OH", "billing_zip": "43099",
    },
    {
        "name": "Tern Hollow Rentals", "list_key": "1002", "phone": "740-555-0118",
        "street": "9 Foundry Court", "city": "Harrow Mills", "state": "OH", "zip": "43099",
        "label": "Lower flat",
    },
    {"name": "Rowan Sedge", "list_key": "1003", "email": "rowan@sedge.example"},
]  # fmt: skip


def example() -> bytes:
    """A short list to fill in, as CSV."""
    rows = [[row.get(column.field, "") for column in COLUMNS] for row in _EXAMPLE]
    return write([column.header for column in COLUMNS], rows)
