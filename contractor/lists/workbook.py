"""What does the first sheet of a workbook (XLSX) say?

A workbook is a ZIP archive: before the reader sees it every part is unpacked against a limit, and
the places of the cells are checked, because one stray cell in the last row and column makes the
reader ask for more memory than there is and takes the process down.
"""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from typing import Any

import python_calamine
from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.lists.limits import Limits

ZIP, OLD_BINARY = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
CELL_PLACE = re.compile(rb"""\br\s*=\s*["']([A-Za-z]{1,4})(\d{1,9})["']""")
CHUNK = 64 * 1024


def is_workbook(data: bytes) -> bool:
    return data.startswith((ZIP, OLD_BINARY))


def lines(data: bytes, limits: Limits) -> Iterator[tuple[int, list[str]]]:
    """(row number, its cells as text) of the first sheet that is not hidden."""
    if data.startswith(OLD_BINARY):
        raise Invalid(
            "list_old_format",
            _("This is an old or locked workbook. Save it as .xlsx without a password, or as CSV."),
        )
    _check_parts(data, limits)
    try:
        book = python_calamine.load_workbook(io.BytesIO(data))
        seen = [
            sheet.name
            for sheet in book.sheets_metadata
            if sheet.visible == python_calamine.SheetVisibleEnum.Visible
        ]
        rows = book.get_sheet_by_name(seen[0]).to_python(skip_empty_area=False)
    except (python_calamine.CalamineError, IndexError) as error:
        raise _damaged() from error
    for number, cells in enumerate(rows, 1):
        yield number, [_text(cell) for cell in cells]


def _check_parts(data: bytes, limits: Limits) -> None:
    """Unpack each part against one budget, whatever the archive's directory claims."""
    left = limits.unpacked_bytes
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
            if len(parts) > limits.parts or sum(part.file_size for part in parts) > left:
                raise _too_much()
            for part in parts:
                unpacked = _unpack(archive, part, left)
                left -= len(unpacked)
                _check_places(unpacked, limits)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise _damaged() from error


def _unpack(archive: zipfile.ZipFile, part: zipfile.ZipInfo, left: int) -> bytes:
    part.file_size = left + 2 * CHUNK  # read on past a size that the directory understates
    unpacked = bytearray()
    with archive.open(part) as stream:
        while chunk := stream.read(CHUNK):
            unpacked += chunk
            if len(unpacked) > left:
                raise _too_much()
    return bytes(unpacked)


def _check_places(part: bytes, limits: Limits) -> None:
    for letters, row in CELL_PLACE.findall(part):
        if _column(letters) > limits.columns or int(row) > limits.last_row:
            raise Invalid(
                "list_stray_cell",
                _("Cell %s lies far outside the list. Clear it, or copy the list into a new sheet.")
                % (letters + row).decode(),
            )


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + letter - ord("A") + 1
    return number


def _text(cell: Any) -> str:
    """A cell as a person would type it: whole numbers without a point, days as 2026-11-25."""
    if isinstance(cell, bool):
        return _("yes") if cell else _("no")
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, dt.datetime) and cell.time() == dt.time(0):
        return cell.date().isoformat()
    if isinstance(cell, dt.date | dt.time):
        return cell.isoformat()
    return str(cell)


def _too_much() -> Invalid:
    return Invalid(
        "list_unpacks_too_large",
        _("The workbook unpacks to far more than a list needs. Copy the list into a new one."),
    )


def _damaged() -> Invalid:
    return Invalid(
        "list_damaged",
        _("The workbook cannot be read. Save it again as .xlsx or as CSV, and choose it again."),
    )
