"""The firm as it stands on a working day, and a browser for each who works there."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

import pytest
import time_machine

from contractor.models import Crew, Person
from tests.factories import contractor, jobs
from tests.stories.visitor import Visitor


@pytest.fixture
def clock() -> Iterator[time_machine.Traveller]:
    """Wednesday morning, a few days before anything takes place."""
    with time_machine.travel(jobs.NOW) as moved:
        yield moved


def signed_in(person: Person) -> Visitor:
    visitor = Visitor()
    visitor.sign_in(person.email, contractor.PASSWORD)
    return visitor


@pytest.fixture
def office(db: None, clock: time_machine.Traveller) -> Visitor:
    contractor.FirmFactory(phone="+16145550142")
    return signed_in(contractor.CoordinatorFactory(name="Dana Whitlock"))


@pytest.fixture
def crew(db: None) -> Crew:
    """A journeyman and an apprentice who go out together."""
    lead, learner = jobs.person("Rhys Okafor"), jobs.person("Tamsin Reed")
    found: Crew = jobs.crew(lead, learner, name="Creek crew")
    return found


@pytest.fixture
def technician(crew: Crew, office: Visitor) -> Visitor:
    return signed_in(crew.people.get(name="Rhys Okafor"))


MONDAY = jobs.MONDAY


def monday(hour: int, minute: int = 0) -> dt.datetime:
    return jobs.at(hour, minute)
