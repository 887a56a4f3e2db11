"""Take in a list of customers and their sites: read, show, then all of it or nothing."""

from contractor.services.imports.columns import COLUMNS, example
from contractor.services.imports.parse import Problem
from contractor.services.imports.plan import Plan, Step, Verb, plan
from contractor.services.imports.take import take_in, upload

__all__ = ["COLUMNS", "Plan", "Problem", "Step", "Verb", "example", "plan", "take_in", "upload"]
