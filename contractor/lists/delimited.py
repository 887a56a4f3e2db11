"""What does a text file with separators (CSV) say?"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator

from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.lists.limits import Limits

SEPARATORS = (",", ";", "\t", "|")
UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def lines(data: bytes, limits: Limits) -> Iterator[tuple[int, list[str]]]:
    """(line in the file, its cells), split at the separator that splits the first line most."""
    text = _text(data)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), strict=True)
    line = 1
    try:
        for cells in reader:
            if len(cells) > limits.columns:
                raise Invalid(
                    "list_too_wide", _("Line %s has more than %s columns.") % (line, limits.columns)
                )
            yield line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        raise Invalid(
            "list_unreadable",
            _("Line %s cannot be read: check the quotation marks in it.") % line,
        ) from error


def _text(data: bytes) -> str:
    """UTF-8 or UTF-16 where the file says so, else what spreadsheet programs in the US write."""
    encodings = ["utf-16"] if data.startswith(UTF_16) else ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise Invalid(
        "list_not_text",
        _("This is neither a CSV nor an XLSX file. Save the list as one of them and choose it."),
    )


def _separator(text: str) -> str:
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(SEPARATORS, key=lambda mark: len(next(csv.reader([first], delimiter=mark))))
