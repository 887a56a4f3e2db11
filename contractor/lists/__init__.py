"""What does a list someone made in a spreadsheet program say, row by row?"""

from contractor.lists.columns import Column, Fitted, fit
from contractor.lists.reading import Row, read
from contractor.lists.writing import write

__all__ = ["Column", "Fitted", "Row", "fit", "read", "write"]
