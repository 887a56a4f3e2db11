"""Whatever is sent to any call of the API, does it answer as its document says, and never break?

Requests are made up from the document itself; the keys in them are those of real rows, so that
most get as far as the rows. What a request writes is taken back.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections, transaction
from drf_spectacular.generators import SchemaGenerator
from hypothesis import HealthCheck, Phase, settings, strategies
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from contractor.models import Device
from contractor.wsgi import application
from tests.factories import contractor, jobs
from tests.stories.test_access import Undone
from tests.stories.worlds import World, make

EXAMPLES = 6
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
# Moments as people mean them, at this firm's clock.
OLDEST, NEWEST = (jobs.NOW.replace(year=year, tzinfo=None) for year in (1990, 2100))
schemathesis.openapi.format(
    "date-time",
    strategies.datetimes(OLDEST, NEWEST, timezones=strategies.just(jobs.ZONE)).map(
        lambda moment: moment.isoformat()
    ),
)
document = schemathesis.openapi.from_dict(SchemaGenerator().get_schema(public=True))
document.app = application


@pytest.fixture(scope="module")
def world(django_db_setup: None, django_db_blocker: Any) -> Iterator[World]:
    """One home with everything, made once for all calls and taken back at the end."""
    for signal in (request_started, request_finished):  # a request must not end our transaction
        signal.disconnect(close_old_connections)
    with django_db_blocker.unblock(), transaction.atomic():
        contractor.FirmFactory()
        made = make("1 Mine Row", "Mina Mineworthy", [jobs.person("Rhys Okafor")])
        _device, made.beside["token"] = Device.objects.create(
            user=contractor.OwnerFactory(), name="tablet"
        )
        yield made
        transaction.set_rollback(True)
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@document.parametrize()
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_a_call_answers_as_its_document_says(case: schemathesis.Case, world: World) -> None:
    aim(case, world)
    answer = sent(case, {"Authorization": f"Token {world.beside['token']}"})
    if answer.status_code != 405:
        case.validate_response(answer, checks=CHECKS)


def sent(case: schemathesis.Case, headers: dict[str, str]) -> Any:
    """The answer; what the request wrote is gone again."""
    answers = []
    try:
        with transaction.atomic():
            answers.append(case.call(headers=headers))
            raise Undone
    except Undone:
        return answers[0]


def aim(case: schemathesis.Case, world: World) -> None:
    """Name rows that are there, at the revision they are at: most requests then get past 404."""
    before = case.path.partition("{")[0].removeprefix("/api/v1/").strip("/")
    for name in case.path_parameters or {}:
        case.path_parameters[name] = str(world.about[before])
    if "If-Match" in (case.headers or {}):
        case.headers["If-Match"] = '"1"'
    if isinstance(case.body, dict):
        for name, key in named(world).items():
            if case.body.get(name):
                case.body[name] = key


def named(world: World) -> dict[str, Any]:
    about = {name: key if isinstance(key, int) else str(key) for name, key in world.about.items()}
    return {
        "site": about["sites"], "customer": about["customers"], "panel": about["panels"],
        "crew": about["crews"], "circuit": about["circuits"], "visit": about["visits"],
        "line": about["close-out-lines"],
    }  # fmt: skip
