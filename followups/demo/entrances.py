"""Where the demo's power comes in, and a fault study kept for each site that has one on record."""

from __future__ import annotations

import datetime as dt

from contractor.models import Person, Site
from followups.demo import rows
from followups.demo.calendar import Calendar
from panels.models import ServiceEntrance
from panels.services import entrance, trees

YES = {"yes": True, "no": False, "": None}


def load_entrances(*, sites: dict[str, Site], by: Person) -> None:
    """What the utility stated or its transformer says, the service conductors, the disconnect."""
    for row in rows("entrances.csv"):
        entrance.record_entrance(
            site=sites[row["site"]],
            by=by,
            occupancy=row["occupancy"],
            available_ka=_number(row["available_ka"]),
            available_xr=_number(row["available_xr"]),
            stated_by=row["stated_by"],
            stated_on=dt.date.fromisoformat(row["stated_on"]) if row["stated_on"] else None,
            transformer_kva=_number(row["transformer_kva"]),
            transformer_z_percent=_number(row["transformer_z_percent"]),
            transformer_xr=_number(row["transformer_xr"]),
            wire_size=row["wire"],
            wire_material=row["metal"],
            raceway=row["raceway"],
            length_ft=_number(row["length_ft"]),
            grounding_size=row["grounding"],
            grounding_material=row["grounding_metal"],
            disconnect_outdoors=YES[row["disconnect_outdoors"]],
            disconnect_marked=YES[row["disconnect_marked"]],
            disconnect_ka=_number(row["disconnect_ka"]),
        )


def save_studies(*, by: Person, calendar: Calendar) -> None:
    """The marking of what is no dwelling rests on a kept study."""
    for found in ServiceEntrance.objects.filter(occupancy="other").select_related("site"):
        trees.keep_available(
            site=found.site, choices=trees.USUAL, by=by,
            now=calendar.at(-20, "15:00"), purpose="Marking by 110.24",
        )  # fmt: skip


def _number(text: str) -> float | None:
    return float(text) if text else None
