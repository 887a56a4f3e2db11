"""What did the meter record, and how far may a load calculation rest on it?"""

from panels.rules.meter.file import Metered, read_file
from panels.rules.meter.findings import Finding, Severity, Unreadable
from panels.rules.meter.series import Reading, Series, packed, unpacked

__all__ = [
    "Finding",
    "Metered",
    "Reading",
    "Series",
    "Severity",
    "Unreadable",
    "packed",
    "read_file",
    "unpacked",
]
