"""What the demo's homes draw, which edition counts where, and calculations saved for permits."""

from __future__ import annotations

import datetime as dt

from contractor.models import Authority, Person, Site
from followups.demo import rows, table
from followups.demo.calendar import Calendar
from jobs.models import Job
from panels.models import Circuit
from panels.services import adoptions, calculations, load

METHODS = ("standard", "optional")


def load_adoptions(*, by: Person) -> None:
    """Which edition each authority follows, and since when."""
    for entry in table("firm.toml")["authorities"]:
        adoptions.record_adoption(
            authority=Authority.objects.get(name=entry["name"]),
            place="",
            since=dt.date.fromisoformat(entry["edition_since"]),
            edition=entry["edition"],
            source=entry["source"],
            by=by,
        )


def load_homes(*, sites: dict[str, Site], by: Person) -> None:
    """Floor areas and nameplates, each load at the circuit that carries it."""
    for row in rows("homes.csv"):
        load.record_home(
            site=sites[row["site"]],
            by=by,
            floor_area_ft2=float(row["floor_area_ft2"]),
            small_appliance_circuits=int(row["small_appliance_circuits"]),
            laundry_circuits=int(row["laundry_circuits"]),
            service_a=int(row["service_a"]),
            bathrooms=int(row["bathrooms"]),
            has_garage=bool(row["garage"]),
        )
    for row in rows("loads.csv"):
        site = sites[row["site"]]
        load.add_load(
            site=site,
            by=by,
            circuit=Circuit.objects.get(
                panel__site=site, panel__name=row["panel"], name=row["circuit"]
            ),
            kind=row["kind"],
            name=row["circuit"],
            nameplate=float(row["nameplate"]),
            unit=row["unit"],
            volts=float(row["volts"]) if row["volts"] else None,
            motor=bool(row["motor"]),
        )


def save_calculations(*, by: Person, calendar: Calendar) -> None:
    """Both methods for every panel job, on the day it was booked."""
    for job in Job.objects.filter(site__home__isnull=False, kind__needs_permit=True):
        for method in METHODS:
            calculations.calculate(
                site=job.site,
                method=method,
                by=by,
                now=job.booked_at,
                on=job.booked_at.astimezone(calendar.zone).date(),
                purpose=job.title,
            )
