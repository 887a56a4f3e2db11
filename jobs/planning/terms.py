"""What makes one plan better than another, and which of its terms counts first?

Every term is a whole number and smaller is better; plans compare by the terms of their objective
in order, an earlier one counting before all later ones.

firm
  broken      promised visits that start outside their promised window or are left out
  undone      sum of the weights of visits left out
  late        sum over planned visits of weight x units ended after `due`
  moved       visits of the published plan left out, on another day, or with someone new to them
  shifted     units by which the starts of published visits still on their day differ, summed
  effort      sum over runs and their people of cost x (units driving + units of overtime)
  unfair      difference between the fullest and the emptiest person, in thousandths of the time
              of all their shifts, counting as full what is spent driving and on visits
completion
  completion  28 C1 + 14 C2 + 4 C3 + C4: Cp the latest end of priority p (0 if none), C4 of all
              (ROADEF 2007 challenge; counted from the start of day 0, whole days end to end)
duration
  duration    sum over runs of their length with the starts they have, from leaving as late as
              reaches the first visit on time to being back: driving, visits and waiting

A visit of several crews counts once where visits are counted. Overtime is what a run goes past
each person's shift. Breaks count neither as driving nor as work nor as duration.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from jobs.planning.problem import Objective

Terms = Mapping[str, int]

ORDER: Mapping[Objective, Sequence[str]] = {
    "firm": ("broken", "undone", "late", "moved", "shifted", "effort", "unfair"),
    "completion": ("completion",),
    "duration": ("duration",),
}


def rank(terms: Terms, objective: Objective) -> tuple[int, ...]:
    """What to compare plans by: the terms of the objective, the first counting most."""
    return tuple(terms[name] for name in ORDER[objective])
