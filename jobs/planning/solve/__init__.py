"""Which plan is best? One search for crews as they stand, another for teams formed each day."""

from jobs.planning.solve.choosing import solve
from jobs.planning.solve.refusing import CannotPlan
from jobs.planning.solve.solving import Progress, Solution

__all__ = ["CannotPlan", "Progress", "Solution", "solve"]
