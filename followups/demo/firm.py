"""The firm, its people, crews, absences and short lists."""

from __future__ import annotations

import datetime as dt
from typing import Any

from contractor.models import (
    Absence,
    Authority,
    Certificate,
    CertificateKind,
    Crew,
    Grade,
    Licence,
    Person,
    Utility,
)
from contractor.services import accounts, crews, firm, people
from followups.demo import PASSWORD, table

AUTHORITY = (
    "name",
    "phone",
    "email",
    "permit_days",
    "permit_days_from",
    "source",
    "inspection_notes",
)


def load_firm(*, now: dt.datetime, today: dt.date) -> Person:
    """The firm with everyone in it; licences run out in days counted from `today`."""
    data = table("firm.toml")
    first, *others = data["people"]
    owner = accounts.begin_firm(
        firm_name=data["firm"]["name"],
        time_zone=data["firm"]["time_zone"],
        name=first["name"],
        email=first["email"],
        password=PASSWORD,
        now=now,
    )
    firm.change_firm(values=data["firm"], by=owner)
    _short_lists(data, owner)
    people.change_person(person=owner, values={"phone": first["phone"]}, by=owner, now=now)
    _papers(owner, first, owner, today)
    for entry in others:
        values = {name: entry[name] for name in ("name", "email", "phone", "role")}
        person = people.add_person(values=values, by=owner, now=now, invite=False)
        accounts.set_password(person=person, password=PASSWORD)
        _papers(person, entry, owner, today)
    _crews(data, owner)
    return owner


def _short_lists(data: dict[str, Any], owner: Person) -> None:
    for entry in data["authorities"]:
        values = {name: entry[name] for name in AUTHORITY}
        firm.save_entry(entry=Authority(), values=values, by=owner)
    for entry in data["utilities"]:
        firm.save_entry(entry=Utility(), values=entry, by=owner)
    known = set(CertificateKind.objects.values_list("name", flat=True))
    for entry in data["certificates"]:
        if entry["name"] not in known:
            firm.save_entry(entry=CertificateKind(), values=entry, by=owner)


def _papers(person: Person, entry: dict[str, Any], owner: Person, today: dt.date) -> None:
    for paper in entry.get("licences", []):
        licence = Licence(
            person=person,
            grade=Grade[paper["grade"].upper()],
            number=paper["number"],
            state="OH",
            expires_on=_left(paper, today),
        )
        people.save_licence(licence=licence, by=owner)
    for paper in entry.get("certificates", []):
        kind = CertificateKind.objects.get(name=paper["name"])
        certificate = Certificate(person=person, kind=kind, expires_on=_left(paper, today))
        people.save_certificate(certificate=certificate, by=owner)


def _left(paper: dict[str, Any], today: dt.date) -> dt.date | None:
    days = paper.get("days_left")
    return today + dt.timedelta(days=days) if days is not None else None


def _crews(data: dict[str, Any], owner: Person) -> None:
    by_email = {person.email: person for person in Person.objects.all()}
    for entry in data["crews"]:
        crews.save_crew(
            crew=Crew(),
            values={
                "name": entry["name"],
                "vehicle": entry["vehicle"],
                "lead": by_email[entry["lead"]],
            },
            people=[by_email[email] for email in entry["people"]],
            by=owner,
        )


def load_absences(*, owner: Person, today: dt.date) -> None:
    """Sick days and training, counted in days from today."""
    for entry in table("firm.toml")["absences"]:
        absence = Absence(
            person=Person.objects.get(email=entry["email"]),
            first_day=today + dt.timedelta(days=entry["first_day"]),
            last_day=today + dt.timedelta(days=entry["last_day"]),
            reason=entry["reason"],
            note=entry.get("note", ""),
        )
        people.save_absence(absence=absence, by=owner)
