"""What do a panel and its breakers show at a glance, before any check is asked for?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from panels.editions import edition
from panels.models import Circuit, Panel
from panels.queries import facts
from panels.queries.records import fed_by
from panels.rules.check.checker import BY_KEY, findings
from panels.rules.check.facts import Record
from panels.rules.check.outcome import Finding, Outcome

READ_FIRST_HAND = "2017"  # the edition whose sections were read in the book
OF_PANEL = ("ocp1", "ocp4_main")
OF_BREAKER = ("ocp1_bus", "ocp4_rating")


def second_look(panel: Panel, circuits: Iterable[Circuit]) -> list[tuple[Circuit | None, Finding]]:
    """What a panel (None) and each breaker show at a glance, without asking the database: ratings
    that fail, and a feeder above the busbar of the panel it feeds. Cited by the edition read."""
    book = edition(READ_FIRST_HAND)
    empty = Record(site=str(panel.site_id), on=dt.date.min, panel=facts.plate(panel))
    found: list[tuple[Circuit | None, Finding]] = []
    for key in OF_PANEL:
        found += [(None, one) for one in findings(BY_KEY[key], empty, book)]
    for circuit in circuits:
        alone = Record(
            site=empty.site,
            on=empty.on,
            panel=empty.panel,
            breakers=(facts.breaker(circuit, panel),),
        )
        for key in OF_BREAKER:
            found += [(circuit, one) for one in findings(BY_KEY[key], alone, book)]
        fed = fed_by(circuit)
        if fed is not None:
            below = Record(
                site=empty.site,
                on=empty.on,
                panel=facts.plate(fed, fed_from=str(circuit), feeder_a=circuit.rating_a),
            )
            found += [(circuit, one) for one in findings(BY_KEY["ocp1"], below, book)]
    return [(circuit, one) for circuit, one in found if one.outcome is Outcome.FAIL]
