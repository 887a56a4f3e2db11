"""What can no plan of a problem be better than?"""

from __future__ import annotations

import numpy as np

from jobs.planning.solve.arrays import Model
from jobs.planning.solve.state import (
    DEPOT,
    DURATION,
    FITS,
    HEAD,
    LASTS,
    NEVER,
    OBJECTIVE,
    ORIGIN,
    PLACE,
    PROMISED,
    REQUIRED,
    WEIGHT,
    Whole,
)
from jobs.planning.terms import Terms


def bound(model: Model) -> Terms:
    """Under each term: by duration the visits and for each the shortest way to its place from
    anywhere else that is gone to, and that from the last home; for a firm the promises and weights
    of those visits that nobody may do on any day."""
    node, match = model.fixed.node, model.fixed.match
    if model.fixed.setting[OBJECTIVE] == DURATION:
        must = node[:, REQUIRED] > 0
        return {"duration": int(node[must, LASTS].sum() + shortest_ways(model)[must].sum())}
    lost = ~(match & FITS > 0).any(axis=0) & (node[:, HEAD] == np.arange(len(node)))
    return {
        "broken": int((lost & (node[:, PROMISED] < NEVER)).sum()),
        "undone": int(node[lost, WEIGHT].sum()),
    }


def shortest_ways(model: Model) -> Whole:
    """For each node the shortest way to it from a home, the depot or another visit."""
    origins, places = model.fixed.run[:, ORIGIN], model.fixed.node[:, PLACE]
    depot = [place for place in model.fixed.setting[DEPOT : DEPOT + 1] if place >= 0]
    sources = np.concatenate([origins, places, np.array(depot, np.int64)])
    ways = model.fixed.travel[np.ix_(sources, places)]
    ways[len(origins) + np.arange(len(places)), np.arange(len(places))] = NEVER
    return np.asarray(ways.min(axis=0), np.int64)
