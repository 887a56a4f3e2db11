"""How do rows go out as a CSV file that spreadsheet programs open without running anything?"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from contractor.lists.escapes import escaped


def write(headers: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """CSV as RFC 4180 has it, in UTF-8 with its mark so that accents survive every program."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    for cells in (headers, *rows):
        writer.writerow([escaped("" if cell is None else str(cell)) for cell in cells])
    return out.getvalue().encode("utf-8-sig")
