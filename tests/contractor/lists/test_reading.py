"""Is every list read as its author meant it, and refused in words when it cannot be?"""

from __future__ import annotations

import datetime as dt
import io
import struct
import zipfile

import openpyxl
import pytest

from contractor.errors import Invalid
from contractor.lists import read

TABLE = [["Name", "Phone", "ZIP"], ["Avery Quill", "614-555-0142", "43099"]]


def rows_of(data: bytes, **limits: int) -> list[tuple[int, dict[str, str]]]:
    return [(row.line, row.values) for row in read(io.BytesIO(data), **limits)]


def workbook(table: list[list[object]], **cells: object) -> bytes:
    book = openpyxl.Workbook()
    for row in table:
        book.active.append(row)
    for place, value in cells.items():
        book.active[place] = value
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def refusal_of(data: bytes, **limits: int) -> str:
    with pytest.raises(Invalid) as refused:
        read(io.BytesIO(data), **limits)
    return refused.value.code


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_each_separator_and_encoding_gives_the_same_rows(separator: str, encoding: str) -> None:
    text = "\r\n".join(separator.join(cells) for cells in [["Name", "Note"], ["Zoë Ørn", "2½ in"]])
    assert rows_of(text.encode(encoding)) == [(2, {"Name": "Zoë Ørn", "Note": "2½ in"})]


def test_a_workbook_and_a_text_file_give_the_same_rows() -> None:
    text = "\n".join(",".join(cells) for cells in TABLE).encode()
    assert rows_of(workbook(TABLE)) == rows_of(text)


def test_lines_are_counted_as_the_author_sees_them() -> None:
    text = b'Name,Note\n\nAvery,"two\nlines"\n\nBlair,\n'
    assert [line for line, _values in rows_of(text)] == [3, 6]
    table = [["Name"], ["Avery"], [None], ["Blair"]]
    assert [line for line, _values in rows_of(workbook(table))] == [2, 4]


def test_numbers_and_days_in_a_workbook_read_as_typed() -> None:
    table = [
        ["ZIP", "Rating", "Day", "Moment"],
        [43099, 12.5, dt.date(2026, 11, 25), dt.datetime.fromisoformat("2026-11-25T07:30")],
    ]
    assert rows_of(workbook(table))[0][1] == {
        "ZIP": "43099",
        "Rating": "12.5",
        "Day": "2026-11-25",
        "Moment": "2026-11-25T07:30:00",
    }


def test_a_hidden_first_sheet_is_passed_over() -> None:
    book = openpyxl.Workbook()
    book.active.append(["Secret"])
    book.active.sheet_state = "hidden"
    for row in TABLE:
        book.create_sheet("List") if len(book.worksheets) == 1 else None
        book["List"].append(row)
    out = io.BytesIO()
    book.save(out)
    assert rows_of(out.getvalue())[0][1]["Name"] == "Avery Quill"


def test_a_column_without_header_is_called_by_its_place() -> None:
    assert rows_of(b"Name,,ZIP\nAvery,x,43099\n")[0][1]["column 2"] == "x"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "list_empty"),
        (b" \n \n", "list_empty"),
        (b"Name,ZIP\n", "list_without_rows"),
        (b"Name,name\nA,B\n", "list_header_twice"),
        (b"Name\nAvery,Quill\n", "list_row_too_wide"),
        (b'Name\n"Avery" Quill\n', "list_unreadable"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "list_not_text"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 64, "list_old_format"),
        (b"PK\x03\x04 and nothing else", "list_damaged"),
    ],
)
def test_what_cannot_be_read_is_refused_by_name(data: bytes, code: str) -> None:
    assert refusal_of(data) == code


def test_size_and_length_are_limited() -> None:
    text = b"Name\n" + b"Avery\n" * 11
    assert refusal_of(text, max_bytes=20) == "list_too_large"
    assert refusal_of(text, max_rows=10) == "list_too_long"
    assert len(rows_of(text, max_rows=11)) == 11


def test_one_stray_cell_far_away_is_refused_before_the_reader_sees_it() -> None:
    assert refusal_of(workbook(TABLE, XFD1048576="x")) == "list_stray_cell"
    assert refusal_of(workbook(TABLE, XFD2="x")) == "list_stray_cell"


def bomb(claimed: int | None = None) -> bytes:
    """An archive of 100 MB of nothing; its directory may claim another size."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"\0" * (100 * 1024 * 1024))
    data = bytearray(out.getvalue())
    if claimed is not None:
        directory = data.rindex(b"PK\x01\x02")
        data[directory + 24 : directory + 28] = struct.pack("<I", claimed)
    return bytes(data)


def test_an_archive_that_unpacks_without_end_is_refused() -> None:
    assert refusal_of(bomb()) == "list_unpacks_too_large"


def test_an_archive_that_lies_about_its_size_is_refused_too() -> None:
    assert refusal_of(bomb(claimed=1000)) == "list_unpacks_too_large"
