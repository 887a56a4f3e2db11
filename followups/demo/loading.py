"""Load everything, in the order in which it happened."""

from __future__ import annotations

import datetime as dt
import zoneinfo

from django.db import transaction

from followups.demo import table
from followups.demo.calendar import Calendar
from followups.demo.entrances import load_entrances, save_studies
from followups.demo.firm import load_absences, load_firm
from followups.demo.homes import load_adoptions, load_homes, save_calculations
from followups.demo.jobs import load_jobs
from followups.demo.meter import load_readings
from followups.demo.places import load_panels, load_places, load_sources

FOUNDED = -130  # the day the records begin; the oldest job is booked a little later


@transaction.atomic
def load(*, now: dt.datetime) -> None:
    """All or nothing; `now` becomes day 0."""
    zone = zoneinfo.ZoneInfo(table("firm.toml")["firm"]["time_zone"])
    calendar = Calendar(today=now.astimezone(zone).date(), zone=zone)
    began = calendar.at(FOUNDED, "08:00")
    owner = load_firm(now=began, today=calendar.today)
    sites = load_places(by=owner, now=began)
    load_panels(sites=sites, by=owner)
    load_sources(sites=sites, by=owner)
    load_entrances(sites=sites, by=owner)
    load_adoptions(by=owner)
    load_homes(sites=sites, by=owner)
    load_readings(sites=sites, by=owner, calendar=calendar)
    load_absences(owner=owner, today=calendar.today)
    load_jobs(sites=sites, calendar=calendar, now=now)
    save_calculations(by=owner, calendar=calendar)
    save_studies(by=owner, calendar=calendar)
