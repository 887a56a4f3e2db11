"""Which column of someone's list is which of ours, going by its header?"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.utils.functional import Promise
from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.lists.reading import Row


@dataclass(frozen=True)
class Column:
    """A column we know: our field, the header we write, and other headers people use for it."""

    field: str
    header: str
    also: tuple[str, ...] = ()
    required: bool = False
    says: str | Promise = ""

    @property
    def headers(self) -> frozenset[str]:
        return frozenset(map(plain, (self.header, self.field, *self.also)))


@dataclass(frozen=True)
class Fitted:
    """Rows by our fields, which header each came from, and the headers nobody knew."""

    rows: list[Row]
    header_of: dict[str, str]
    unused: list[str]


def plain(header: str) -> str:
    """A header without case, marks and plural dots: “Zip-Code” and “zip code” are the same."""
    return " ".join(re.sub(r"[^a-z0-9#]+", " ", header.lower()).split())


def fit(rows: list[Row], columns: Iterable[Column]) -> Fitted:
    """The rows keyed by our fields. Raises Invalid when a column is missing or there twice."""
    columns = list(columns)
    header_of: dict[str, str] = {}
    unused = []
    for header in rows[0].values:
        field = next((column.field for column in columns if plain(header) in column.headers), None)
        if field is None:
            unused.append(header)
        elif field in header_of:
            raise Invalid(
                "list_column_twice",
                _("The columns “%s” and “%s” mean the same here. Keep one of them.")
                % (header_of[field], header),
            )
        else:
            header_of[field] = header
    _require(columns, header_of)
    fitted = [
        replace(row, values={field: row.values[header] for field, header in header_of.items()})
        for row in rows
    ]
    filled = {header for row in rows for header, text in row.values.items() if text}
    return Fitted(fitted, header_of, [header for header in unused if header in filled])


def _require(columns: list[Column], header_of: dict[str, str]) -> None:
    missing = [
        column.header for column in columns if column.required and column.field not in header_of
    ]
    if missing:
        raise Invalid(
            "list_column_missing",
            _("The list has no column “%s”. The first row must hold the column names.")
            % "”, “".join(missing),
        )
