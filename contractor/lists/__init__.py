"""What does a list someone made in a spreadsheet program say, row by row?"""

from contractor.lists.columns import Column, Fitted, fit
from contractor.lists.reading import Line, Row, read, table
from contractor.lists.writing import write

__all__ = ["Column", "Fitted", "Line", "Row", "fit", "read", "table", "write"]
