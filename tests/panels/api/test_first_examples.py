"""Does the API work each method's first example as the command does, and show it?"""

from __future__ import annotations

import copy
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from drf_spectacular.generators import SchemaGenerator
from rest_framework.test import APIClient

from panels.editions import edition
from panels.rules.questions import QUESTIONS, answer
from panels.rules.working import to_plain
from panels.starters import TABLES, starter

pytestmark = pytest.mark.django_db
PREVIEW = "/api/v1/calculations/preview"
PUBLISHED = sorted((Path(__file__).parents[2] / "worked_examples").glob("*.toml"))


def asked(phone: APIClient, method: Any, by: Any, inputs: Any) -> Any:
    said = {"method": method, "edition": by, "inputs": inputs}
    return phone.post(PREVIEW, said, format="json")


@pytest.mark.parametrize("key", QUESTIONS)
def test_the_first_example_comes_back_line_by_line(office_phone: APIClient, key: str) -> None:
    first = starter(key)
    told = asked(office_phone, key, first.edition, first.inputs)
    assert told.status_code == 200, told.data
    ours = to_plain(answer(key, first.inputs, edition(first.edition)))
    assert told.json()["sections"] == _as_json(ours["sections"])


def test_every_published_example_comes_out_the_same_over_http(office_phone: APIClient) -> None:
    for path in PUBLISHED:
        plain = tomllib.loads(path.read_text(encoding="utf-8"))
        if "amendments" in plain:
            continue  # a request names an edition as it is printed; amendments are the firm's
        inputs = next(plain[name] for name in TABLES if name in plain)
        told = asked(office_phone, plain["method"], plain["edition"], inputs)
        assert told.status_code == 200, (path.name, told.data)
        ours = to_plain(answer(plain["method"], inputs, edition(plain["edition"])))
        assert told.json()["sections"] == _as_json(ours["sections"]), path.name


@pytest.mark.parametrize("key", QUESTIONS)
def test_a_field_nobody_asks_for_is_named(office_phone: APIClient, key: str) -> None:
    inputs = copy.deepcopy(starter(key).inputs) | {"colour": "red"}
    told = asked(office_phone, key, starter(key).edition, inputs)
    assert told.status_code == 422, told.data
    assert list(told.data["fields"]) == ["colour"]


@pytest.mark.parametrize("key", QUESTIONS)
def test_nothing_described_is_refused_by_its_field(office_phone: APIClient, key: str) -> None:
    told = asked(office_phone, key, "2017", {})
    assert told.status_code == 422, told.data
    assert told.data["fields"]


def test_the_description_of_the_api_shows_a_first_example_of_each() -> None:
    schema = SchemaGenerator().get_schema(request=None, public=True)
    body = schema["paths"][PREVIEW]["post"]["requestBody"]["content"]["application/json"]
    shown = {one["value"]["method"]: one["value"] for one in body["examples"].values()}
    assert set(shown) == set(QUESTIONS)
    assert shown["dryers"]["inputs"]["loads"] == starter("dryers").inputs["loads"]


def _as_json(plain: Any) -> Any:
    return json.loads(json.dumps(plain))
