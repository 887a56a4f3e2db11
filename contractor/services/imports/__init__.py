"""Take in a list of customers and their sites: read, show, then all of it or nothing."""

from contractor.services.imports.parse import Problem
from contractor.services.imports.plan import Plan, Step, Verb, plan
from contractor.services.imports.take import rows_of, take_in, upload

__all__ = ["Plan", "Problem", "Step", "Verb", "plan", "rows_of", "take_in", "upload"]
