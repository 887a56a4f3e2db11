"""How much does a unit of each term weigh, so that an earlier term outweighs all later ones?

No sum of later terms can reach one unit of an earlier: each weight is one more than the largest
sum of weight times bound of all that come after it. The weights only guide where a visit is put
(as floating point numbers, of differences, so the leading difference decides); plans are compared
term by term in whole numbers.
"""

from __future__ import annotations

import numpy as np

from jobs.planning.problem import Problem
from jobs.planning.solve.published import told
from jobs.planning.solve.state import (
    BROKEN,
    EFFORT,
    LATE,
    MOVED,
    MUST,
    SHIFTED,
    TERMS,
    UNDONE,
    UNFAIR,
    Real,
)


def scales(problem: Problem) -> Real:
    """[term]: from the last up, each above anything the later ones can sum up to."""
    found, above = np.ones(TERMS), 0.0
    for term, most in reversed(list(enumerate(bounds(problem)))):
        found[term] = above + 1
        above += found[term] * most
    return found


def bounds(problem: Problem) -> list[int]:
    """No plan has more of a term than this."""
    start = min((day.span.start for day in problem.days), default=0)
    horizon = max((day.span.end for day in problem.days), default=0) - min(start, 0)
    published, visits, most = len(told(problem)), problem.visits, [0] * TERMS
    most[MUST] = len(visits) + sum(visit.cost for visit in visits)
    most[BROKEN] = sum(visit.promised is not None for visit in visits)
    most[UNDONE] = sum(visit.weight for visit in visits)
    most[LATE] = most[UNDONE] * horizon
    most[MOVED] = published
    most[SHIFTED] = published * horizon
    # A run neither drives nor is over time for longer than its day.
    days = sum(day.span.end - day.span.start for day in problem.days)
    most[EFFORT] = 2 * days * max(sum(person.cost for person in problem.people), 1)
    most[UNFAIR] = 1000 * max(days, 1)
    return most


def warmths(problem: Problem) -> Real:
    """[term]: a growth that passes one time in e while the search is hottest: for effort (or
    duration) the way between two places on average, for what was promised, done or published a
    part of one visit, never for what must be. Found by trial on the published problems and on
    made-up weeks."""
    found = np.zeros(TERMS)
    ways = np.array(problem.travel, np.float64)
    way = float(ways.mean()) if ways.size else 1.0
    rates = [person.cost for person in problem.people] if problem.objective == "firm" else [1]
    heads = max(
        float(np.mean([len(crew) for crew in problem.crews])) if problem.crews else 1.0, 1.0
    )
    if problem.objective != "firm":
        heads = 1.0
    found[EFFORT] = way * heads * float(np.mean(rates)) if rates else way
    found[UNFAIR] = 50
    found[SHIFTED] = way
    found[MOVED] = 0.3
    weights = [visit.weight for visit in problem.visits]
    found[LATE] = way * (float(np.mean(weights)) if weights else 1.0)
    found[UNDONE] = 0.3 * (float(np.mean(weights)) if weights else 1.0)
    found[BROKEN] = 0.2
    return found
