"""Which cells would a spreadsheet program run as a formula, and how is that prevented?

What starts with = + - @ TAB or CR, or holds one right after a separator or a line break, gets an
apostrophe in front (OWASP ASVS 5.0.0, V1.2.10); reading takes the same apostrophe off again, so a
list that goes out and comes back is unchanged.
"""

from __future__ import annotations

import re

AT_RISK = re.compile(r"(^|[,;\n])(?=['=+\-@\t\r])")
MARKED = re.compile(r"(^|[,;\n])'(?=['=+\-@\t\r])")


def escaped(cell: str) -> str:
    return AT_RISK.sub(r"\1'", cell)


def unescaped(cell: str) -> str:
    return MARKED.sub(r"\1", cell)
