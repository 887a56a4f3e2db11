"""Which plan is best for the crews as they stand? One search: ruin and recreate, annealed."""

from jobs.planning.solve.refusing import CannotPlan
from jobs.planning.solve.solving import Progress, Solution, solve

__all__ = ["CannotPlan", "Progress", "Solution", "solve"]
