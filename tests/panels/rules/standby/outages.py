"""Plain descriptions of outages, and arbitrary ones, for the tests."""

from __future__ import annotations

from typing import Any

import numpy as np
from hypothesis import strategies as st

from panels.rules.standby.simulate import Supply
from panels.rules.standby.sources import Generator, Storage


def outage(**changed: Any) -> dict[str, Any]:
    """One evening with two loads on a battery; `changed` replaces fields, None takes one out."""
    plain: dict[str, Any] = {
        "start": "2026-01-15 18:00",
        "hours": 48,
        "loads": [
            {"name": "Refrigerator", "running": "700 W"},
            {"name": "Range", "running": "2 kW", "shed_order": 1},
        ],
        "storage": [{"usable": "10 kWh", "inverter": "5 kW", "efficiency": 1.0}],
    }
    plain |= changed
    return {name: value for name, value in plain.items() if value is not None}


def constant(watts: float, hours: int = 24, lanes: int = 1) -> np.ndarray[Any, Any]:
    return np.full((hours * 4, lanes), float(watts))


DARK = np.zeros((4000, 1))
watts = st.floats(min_value=0, max_value=9000, allow_nan=False)
days = st.lists(watts, min_size=48, max_size=48).map(lambda day: np.array(day)[:, None])
orders = st.sampled_from([("storage", "generator"), ("generator", "storage")])


@st.composite
def storages(draw: st.DrawFn) -> Storage:
    efficiency = draw(st.floats(min_value=0.5, max_value=1))
    return Storage(
        usable=draw(st.floats(min_value=500, max_value=40_000)),
        inverter=draw(st.floats(min_value=500, max_value=10_000)),
        efficiency=efficiency,
        round_trip=efficiency * draw(st.floats(min_value=0.5, max_value=1)),
        at_start=draw(st.floats(min_value=0, max_value=1)),
    )


@st.composite
def generators(draw: st.DrawFn) -> Generator:
    full = draw(st.floats(min_value=0.2, max_value=4))
    return Generator(
        rating=draw(st.floats(min_value=500, max_value=12_000)),
        full_per_h=full,
        half_per_h=full * draw(st.floats(min_value=0.5, max_value=1)),
        fuel=draw(st.one_of(st.none(), st.floats(min_value=0.1, max_value=30))),
    )


@st.composite
def supplies(draw: st.DrawFn) -> Supply:
    """Storage, a generator, or both in either order."""
    which = draw(st.sampled_from(["storage", "generator", "both"]))
    both = which == "both"
    return Supply(
        storage=draw(storages()) if both or which == "storage" else Storage(),
        generator=draw(generators()) if both or which == "generator" else Generator(),
        order=draw(orders) if both else (which,),
    )
