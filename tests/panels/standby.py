"""A house with storage on the wall and circuits that may be let go, for the tests."""

from __future__ import annotations

from typing import Any

from contractor.models import Site
from panels.models import Panel, Source
from panels.services import load, sources
from tests.factories.panels import a_circuit, a_panel, a_recorder


def a_backed_up_house(site: Site | None = None, **panel: Any) -> Panel:
    """A refrigerator of 240 W that stays on, a pump of 1.2 kVA in stage 2, a heater of 2 kW in 1.

    By habit the refrigerator's circuit draws 20 % and 40 % of its plate in the evening.
    """
    main = a_panel(site, **panel)
    fridge = a_circuit(main, 1, name="Refrigerator", backed_up=True)
    pump = a_circuit(main, 2, name="Well pump", poles=2, backed_up=True, shed_order=2)
    heater = a_circuit(main, 6, name="Water heater", poles=2, backed_up=True, shed_order=1)
    a_circuit(main, 9, name="Dryer", poles=2)
    by, here = a_recorder(), main.site
    load.add_load(
        site=here, by=by, circuit=fridge, kind="other", name="Refrigerator", nameplate=240,
        unit="VA", volts=120,
    )  # fmt: skip
    load.add_load(
        site=here, by=by, circuit=pump, kind="motor", name="Well pump", nameplate=1200,
        unit="VA", volts=240, motor=True,
    )  # fmt: skip
    load.add_load(
        site=here, by=by, circuit=heater, kind="water_heater", name="Water heater", nameplate=4.5,
        unit="kW",
    )  # fmt: skip
    return main


def a_battery(site: Site, **said: Any) -> Source:
    known = {"kind": "storage", "name": "Garage battery", "usable_kwh": 10, "rated_kva": 5}
    known |= {"surge_kva": 9, "transfer": "automatic"}
    return sources.add_source(site=site, by=a_recorder(), **(known | said))
