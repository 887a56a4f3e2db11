"""May a node stand on a run at all, by people, day and the visits it is linked with?"""

from __future__ import annotations

from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.state import (
    AFTER,
    FITS,
    KIND,
    LINKS,
    LINKS_END,
    OTHER,
    RUN,
    SIZE,
    TEAM,
    TOGETHER,
    Fixed,
    State,
)


@compiled
def may_stand(a: Fixed, s: State, x: int, run: int) -> bool:
    """Whether the people and the day suit, with those it has to go together with."""
    if not (a.match[run, x] & FITS) or s.on[run, SIZE] >= s.seq.shape[1]:
        return False
    for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
        other = s.at[a.link[k, OTHER], RUN]
        if a.link[k, KIND] == TOGETHER and other >= 0 and a.run[other, TEAM] != a.run[run, TEAM]:
            return False
    return True


@compiled
def waits_for_another(a: Fixed, s: State, x: int) -> bool:
    """Whether a visit it comes after is left out."""
    for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
        if a.link[k, KIND] == AFTER and s.at[a.link[k, OTHER], RUN] < 0:
            return True
    return False


@compiled
def has_followers(a: Fixed, s: State, x: int) -> bool:
    """Whether a left-out visit waits for this one."""
    for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
        if a.link[k, KIND] != AFTER and s.at[a.link[k, OTHER], RUN] < 0:
            return True
    return False
