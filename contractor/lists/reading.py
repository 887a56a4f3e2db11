"""What is in the file: its rows, each with its line, whatever program wrote it?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import BinaryIO

from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.lists import delimited, workbook
from contractor.lists.escapes import unescaped
from contractor.lists.limits import Limits

Line = tuple[int, list[str]]


@dataclass(frozen=True)
class Row:
    """One row as typed: its line in the file, and every column's text by the column's header."""

    line: int
    values: dict[str, str]


def read(
    file: BinaryIO, *, max_bytes: int = Limits.bytes, max_rows: int = Limits.rows
) -> list[Row]:
    """Every row under the header row of a CSV or XLSX file, blank ones left out.

    The format is told by the content, never by the file's name. Raises Invalid with a sentence
    for the person who chose the file when it cannot be read or is larger than the limits.
    """
    limits = Limits(bytes=max_bytes, rows=max_rows)
    lines = _lines(file, limits)
    headers = _headers(next(lines, (0, []))[1])
    rows = [Row(line, _by_header(headers, cells, line)) for line, cells in _counted(lines, limits)]
    if not rows:
        raise Invalid("list_without_rows", _("The file has a header row, but no rows under it."))
    return rows


def table(
    file: BinaryIO, *, max_bytes: int = Limits.bytes, max_rows: int = Limits.rows
) -> list[Line]:
    """Every filled line of a CSV or XLSX file as (line, cells), for lists whose header row must
    be looked for. Raises Invalid as `read` does."""
    limits = Limits(bytes=max_bytes, rows=max_rows)
    return list(_counted(_lines(file, limits), limits))


def _lines(file: BinaryIO, limits: Limits) -> Iterator[Line]:
    data = file.read(limits.bytes + 1)
    if len(data) > limits.bytes:
        megabytes = f"{limits.bytes / 1024 / 1024:.0f}"
        raise Invalid(
            "list_too_large",
            _("The file is larger than %s MB. Split it and bring the parts in one by one.")
            % megabytes,
        )
    if not data.strip():
        raise Invalid("list_empty", _("The file is empty."))
    reader = workbook if workbook.is_workbook(data) else delimited
    return _filled(reader.lines(data, limits))


def _filled(lines: Iterable[Line]) -> Iterator[Line]:
    for line, cells in lines:
        stripped = [unescaped(cell.strip()) for cell in cells]
        if any(stripped):
            yield line, stripped


def _counted(lines: Iterator[Line], limits: Limits) -> Iterator[Line]:
    for number, line in enumerate(lines, 1):
        if number > limits.rows:
            raise Invalid(
                "list_too_long",
                _("The list has more than %s rows. Split it and bring the parts in one by one.")
                % limits.rows,
            )
        yield line


def _headers(cells: list[str]) -> list[str]:
    """The header row; a column without a header is called by its place, so that it can be named."""
    headers = [
        " ".join(cell.split()) or _("column %s") % number for number, cell in enumerate(cells, 1)
    ]
    twice = [header for header, times in Counter(map(str.lower, headers)).items() if times > 1]
    if twice:
        raise Invalid(
            "list_header_twice",
            _("Two columns are called “%s”. Rename or remove one of them.") % twice[0],
        )
    return headers


def _by_header(headers: list[str], cells: list[str], line: int) -> dict[str, str]:
    if any(cells[len(headers) :]):
        raise Invalid(
            "list_row_too_wide",
            _("Line %s has more cells than the header row has columns.") % line,
        )
    padded = cells + [""] * (len(headers) - len(cells))
    return dict(zip(headers, padded, strict=False))
