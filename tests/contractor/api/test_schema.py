"""Does the OpenAPI document describe every call, how it signs in, and how it refuses?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from rest_framework.test import APIClient

WRITING = {"post", "put", "patch", "delete"}


@pytest.fixture
def document(db: None) -> dict[str, Any]:
    answer = APIClient().get("/api/v1/openapi.json")
    assert answer.status_code == 200
    return answer.json()


def calls(document: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, methods in document["paths"].items():
        for method, call in methods.items():
            if isinstance(call, dict) and "responses" in call:
                yield path, method, call


def test_each_call_has_a_name_of_its_own(document: dict[str, Any]) -> None:
    names = [call["operationId"] for _path, _method, call in calls(document)]
    assert len(names) == len(set(names))


def test_each_call_but_signing_in_needs_a_device_token(document: dict[str, Any]) -> None:
    open_calls = {path for path, _m, call in calls(document) if not call.get("security")}
    assert open_calls == {"/api/v1/token"}


def test_each_call_says_how_it_refuses(document: dict[str, Any]) -> None:
    for path, method, call in calls(document):
        expected = {"400", "429"}
        if path != "/api/v1/token":
            expected |= {"401", "403"}
        if "{" in path:
            expected.add("404")
        if method in WRITING:
            expected |= {"409", "422"}
        assert expected <= set(call["responses"]), f"{method} {path}"


def test_a_call_that_names_its_base_says_what_becomes_of_a_stale_one(
    document: dict[str, Any],
) -> None:
    based = [
        call
        for _path, _method, call in calls(document)
        if any(parameter["name"] == "If-Match" for parameter in call.get("parameters", []))
    ]
    assert len(based) >= 4
    assert all({"412", "428"} <= set(call["responses"]) for call in based)


def test_every_refusal_is_one_problem_document(document: dict[str, Any]) -> None:
    for path, method, call in calls(document):
        for status in ("401", "404", "422"):
            if status in call["responses"]:
                content = call["responses"][status]["content"]
                schema = next(iter(content.values()))["schema"]
                assert schema == {"$ref": "#/components/schemas/Problem"}, f"{method} {path}"
    assert set(document["components"]["schemas"]["Problem"]["required"]) == {
        "status",
        "code",
        "detail",
    }
