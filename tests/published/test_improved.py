"""Are the routes we keep as better than the best known value sound, and as good as they say?"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from jobs.planning.checking.check import check
from jobs.planning.problem import Plan, Run, Stop
from tests.published import technician_routing

KEPT = sorted((Path(__file__).parent / "improved").glob("*.json"))
DATA = Path(__file__).resolve().parents[3] / "shared/data/planning/trsp"


@pytest.mark.parametrize("file", KEPT, ids=[file.stem for file in KEPT])
def test_kept_routes_are_sound_and_below_the_best_known_value(file: Path) -> None:
    kept = json.loads(file.read_text())
    data = DATA / f"{kept['instance']}.txt"
    if not data.exists():
        pytest.skip("the published instances are not here")
    instance = technician_routing.read(data)
    plan = Plan(runs=[run(route) for route in kept["routes"]])
    assert check(instance.problem, plan).sound
    assert instance.value(plan) == pytest.approx(kept["value"], abs=1e-3)
    assert kept["value"] < kept["best_known"]


def run(route: dict[str, object]) -> Run:
    stops = [
        Stop(visit=each["request"], start=each["start"], stock_up=each["depot_before"])
        for each in route["stops"]  # type: ignore[attr-defined]
    ]
    return Run(day=0, people=frozenset({str(route["technician"])}), stops=stops)
