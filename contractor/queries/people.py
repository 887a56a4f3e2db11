"""Who works here, what are they licensed for, and who is away?"""

from __future__ import annotations

import datetime as dt
import enum
from dataclasses import dataclass

from django.db.models import Prefetch, QuerySet
from django.utils.translation import gettext_lazy as _

from contractor.models import Absence, Certificate, Crew, Licence, Person

SOON = dt.timedelta(days=60)


class Standing(enum.Enum):
    """How long a licence or certificate is still good: its word, and the mark it carries."""

    OPEN_ENDED = ("done", _("no end"))
    GOOD = ("done", _("good"))
    SOON = ("due", _("ends soon"))
    EXPIRED = ("expired", _("expired"))

    @property
    def mark(self) -> str:
        return self.value[0]

    @property
    def label(self) -> str:
        return str(self.value[1])

    @property
    def needs_a_word(self) -> bool:
        """Worth a word where there is room for few."""
        return self in (Standing.SOON, Standing.EXPIRED)


@dataclass(frozen=True)
class Paper:
    """A licence or certificate as it stands on a day."""

    record: Licence | Certificate
    standing: Standing

    @property
    def kind(self) -> str:
        """As its pages' addresses call it."""
        return "licences" if isinstance(self.record, Licence) else "certificates"


def standing(expires_on: dt.date | None, day: dt.date) -> Standing:
    """Good through its last day; `SOON` ahead of that it is worth renewing."""
    if expires_on is None:
        return Standing.OPEN_ENDED
    if expires_on < day:
        return Standing.EXPIRED
    return Standing.SOON if expires_on - day <= SOON else Standing.GOOD


def people(*, active: bool = True) -> QuerySet[Person]:
    """People in order of name, with all a list of them shows."""
    return Person.objects.filter(is_active=active).prefetch_related(
        "licences",
        Prefetch("certificates", Certificate.objects.select_related("kind")),
        Prefetch("crews", Crew.objects.filter(is_active=True)),
    )


def papers(person: Person, day: dt.date) -> list[Paper]:
    """Licences, then certificates, each with its standing on the day."""
    held: list[Licence | Certificate] = [*person.licences.all(), *person.certificates.all()]
    return [Paper(record, standing(record.expires_on, day)) for record in held]


def absences(person: Person, day: dt.date) -> QuerySet[Absence]:
    """Days away that are not over on the day, the nearest first."""
    return person.absences.filter(last_day__gte=day).order_by("first_day")


def crews() -> QuerySet[Crew]:
    """Crews that go out first, each with its people and lead."""
    return (
        Crew.objects.select_related("lead")
        .prefetch_related("people")
        .order_by("-is_active", "name")
    )
