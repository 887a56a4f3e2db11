"""Which plan is best where people are grouped anew each day? Repairs of some teams at a time."""

from jobs.planning.solve.teams.solving import solve

__all__ = ["solve"]
