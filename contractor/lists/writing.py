"""How do rows go out as a CSV file that spreadsheet programs open without running anything?"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain

from contractor.lists.escapes import escaped


def write(headers: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """CSV as RFC 4180 has it, in UTF-8 with its mark so that accents survive every program."""
    return b"".join(lines(headers, rows))


def lines(headers: Sequence[str], rows: Iterable[Sequence[object]]) -> Iterator[bytes]:
    """The same, line by line: a long list need not be held whole."""
    yield codecs.BOM_UTF8
    for cells in chain([headers], rows):
        out = io.StringIO(newline="")
        filled = ("" if cell is None else str(cell) for cell in cells)
        csv.writer(out, lineterminator="\r\n").writerow([escaped(cell) for cell in filled])
        yield out.getvalue().encode()
