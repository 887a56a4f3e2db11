"""Is a description either read or refused by its field, whatever is written in it?"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.editions import edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.fault import answer as fault
from panels.rules.feeders import answer as feeders
from tests.panels.rules.feeders.test_answer import HOME, plain

AMOUNTS = st.builds(
    lambda number, unit: {"value": number, "unit": unit},
    st.floats(),
    st.sampled_from(["A", "kA", "VA", "kVA", "ft", "V", "kW", "m", ""]),
)
ANYTHING = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), AMOUNTS,
    st.just([]), st.just({}), st.just([{}]), st.just(["a"]),
    st.sampled_from(["A", "AA", "AB", "ABC", "3ph-208", "steel", "6", "12 A", "1e3 A", "60 ft"]),
)  # fmt: skip


def full() -> dict[str, Any]:
    """A description in which every field there is says something."""
    said = plain(dwelling=HOME, method="optional", unplaced=[{"name": "Welder", "load": "5 kVA"}])
    bank = {"rating": "75 kVA", "percent_z": 2.0, "x_over_r": 2.0, "secondary_protected": "90 A"}
    wire = {
        "size": "4/0", "metal": "al", "raceway": "pvc", "length": "40 ft", "sets": 1,
        "neutral": "2/0", "insulation_c": 90, "terminal_c": 75, "ambient_c": 35, "bundled": 3,
        "c": 9000,
    }  # fmt: skip
    said["service"] |= {
        "available": "14 kA", "available_to_neutral": "20 kA", "x_over_r": 2.0, "stated": "x",
        "transformer": bank, "conductor": wire, "disconnect_interrupting": "22 kA",
    }  # fmt: skip
    said["panels"][1] |= {"transformer": bank, "conductor": wire, "interrupting": "10 kA"}
    said["panels"][0]["circuits"][2] |= {
        "interrupting": "10 kA",
        "full_rated": True,
        "duty": "feeder",
    }
    return said


def paths(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if path:
        yield path
    if isinstance(node, dict | list):
        for key, one in node.items() if isinstance(node, dict) else enumerate(node):
            yield from paths(one, (*path, key))


PATHS = [path for path in paths(full()) if path[0] not in ("dwelling",)]


def put(said: dict[str, Any], path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    changed: Any = deepcopy(said)
    node = changed
    for key in path[:-1]:
        node = node[key]
    node[path[-1]] = value
    return changed  # type: ignore[no-any-return]


@given(path=st.sampled_from(PATHS), value=ANYTHING)
@settings(max_examples=600, deadline=None)
def test_anything_in_any_field_is_answered_or_refused(path: tuple[Any, ...], value: Any) -> None:
    said = put(full(), path, value)
    without = {name: one for name, one in said.items() if name not in ("dwelling", "method")}
    for question, given_ in ((feeders.QUESTION, said), (fault.QUESTION, without)):
        with contextlib.suppress(BadDescription, NotCovered):
            question.answer(question.read(given_), edition("2023"))


def test_everything_said_at_once_is_read() -> None:
    feeders.answer(feeders.read(full()), edition("2023"))


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        (("panels", 0, "name"), 5, "panels[1].name"),
        (("panels", 0, "circuits", 0, "poles"), 4, "panels[1].circuits[1].space"),
        (("service", "available"), {"value": 1e300, "unit": "kA"}, "service.available"),
        (("service", "conductor", "length"), "12 A", "service.conductor.length"),
        (("panels", 0, "circuits", 0, "loads", 0, "load"), "9 kW",
         "panels[1].circuits[1].loads[1].load"),
    ],
)  # fmt: skip
def test_a_slip_is_named_by_its_place(path: tuple[Any, ...], value: Any, field: str) -> None:
    with pytest.raises(BadDescription) as refused:
        feeders.read(put(full(), path, value))
    assert refused.value.field == field


@pytest.mark.parametrize("legs", ["AA", "AC", "ABC"])
def test_legs_that_are_not_there_are_refused(legs: str) -> None:
    said = plain()
    said["panels"][0]["circuits"][0] = {"legs": legs, "rating": "20 A"}
    with pytest.raises(BadDescription, match="legs"):
        feeders.read(said)
