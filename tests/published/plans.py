"""How is a plan written down, so that it can be read and checked again?"""

from __future__ import annotations

import json

from jobs.planning.problem import Plan, Run, Stop


def written(plan: Plan) -> str:
    """JSON, one run a line: its day, people and stops [visit, start, by the depot]."""
    runs = [
        json.dumps(
            {
                "day": run.day,
                "people": sorted(run.people),
                "stops": [[stop.visit, stop.start, stop.stock_up] for stop in run.stops],
            }
        )
        for run in plan.runs
    ]
    return "[\n" + ",\n".join(runs) + "\n]\n"


def read(text: str) -> Plan:
    """What `written` wrote."""
    return Plan(
        runs=[
            Run(
                day=run["day"],
                people=frozenset(run["people"]),
                stops=[
                    Stop(visit=visit, start=start, stock_up=stock_up)
                    for visit, start, stock_up in run["stops"]
                ],
            )
            for run in json.loads(text)
        ]
    )
