"""What does a table of readings (CSV) say, read line by line?"""

from __future__ import annotations

import codecs
import csv
import datetime as dt
import io
import math
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice, pairwise
from typing import BinaryIO

from panels.rules.meter.catalogue import UNKNOWN_QUALITY, Kind
from panels.rules.meter.channels import Channel
from panels.rules.meter.clock import Clock, winter_clock
from panels.rules.meter.columns import LENGTHS, UNITS, Columns, Value, columns_of
from panels.rules.meter.findings import Finding, Severity, Unreadable, counted
from panels.rules.meter.rows import Rows

SEPARATORS = (",", ";", "\t", "|")
TITLES = 60  # lines that may stand before the header
BLANK = frozenset({"", "-", "n/a", "na", "null", "none", "--"})
NUMBER = re.compile(r"[-+]?(?:\d+|\d{1,3}(?:,\d{3})+)?(?:\.\d*)?(?:[eE][-+]?\d+)?")
ESTIMATED, EDITED = 8, 7
HOW = 'Write a header such as "start,duration (min),kWh" over the readings.'


@dataclass(kw_only=True)
class Table:
    """The readings of a table by channel, and what was found on the way."""

    channels: list[Channel] = field(default_factory=list)
    rows: Rows = field(default_factory=Rows)
    findings: list[Finding] = field(default_factory=list)


@dataclass(kw_only=True)
class Collected:
    """Rows by meter and column while the lines go by. A length of 0 is not known yet."""

    clock: Clock
    by_channel: dict[tuple[str, Value], Rows] = field(default_factory=dict)
    units: Counter[str] = field(default_factory=Counter)
    blanks: int = 0
    length_guessed: bool = False


def read_table(file: BinaryIO, zone: dt.tzinfo, *, unit: str = "") -> Table:
    """The channels of a CSV open for reading bytes. Raises `Unreadable`."""
    encoding, told = _encoding(file)
    header, columns, separator = _header(file, encoding)
    got = _collect(file, encoding, header, columns, separator, Clock(zone))
    findings = [told] if told else []
    if got.clock.skipped:
        year = dt.datetime.fromtimestamp(_any_start(got), dt.UTC).year
        clock = Clock(winter_clock(zone, year))
        got = _collect(file, encoding, header, columns, separator, clock)
        findings.append(
            Finding(
                "standard_time",
                "The file has times in the hour that is skipped in spring, so its clock does not"
                " change: all times were read as standard time.",
                Severity.CAUTION,
            )
        )
    return _table(got, columns, findings)


def _any_start(got: Collected) -> int:
    return next(rows.starts[0] for rows in got.by_channel.values() if len(rows))


def _encoding(file: BinaryIO) -> tuple[str, Finding | None]:
    """UTF-16 where the file is marked so, UTF-8 where all of it is, else Western European."""
    head = file.read(4)
    file.seek(0)
    if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16", None
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        while chunk := file.read(1 << 16):
            decoder.decode(chunk)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        said = "The file is not in UTF-8; it was read as Western European text (Windows-1252)."
        return "cp1252", Finding("encoding", said)
    finally:
        file.seek(0)
    return "utf-8-sig", None


def _lines(file: BinaryIO, encoding: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    file.seek(0)
    text = io.TextIOWrapper(file, encoding=encoding, newline="", errors="strict")
    reader = csv.reader(text, delimiter=separator)
    try:
        for cells in reader:
            yield reader.line_num, cells
    except (csv.Error, UnicodeError) as fault:
        raise Unreadable(
            "damaged_table",
            f"Line {reader.line_num + 1:,} cannot be read ({fault}). Save the table anew as CSV in"
            " UTF-8.",
        ) from fault
    finally:
        text.detach()


def _header(file: BinaryIO, encoding: str) -> tuple[int, Columns, str]:
    """The line of the header, its columns and the separator that makes sense of it."""
    seen: list[str] = []
    for separator in SEPARATORS:
        lines = _lines(file, encoding, separator)
        for number, cells in islice(lines, TITLES):
            if len(cells) > 1 and (columns := columns_of(cells)):
                lines.close()  # type: ignore[attr-defined]
                return number, columns, separator
            seen = seen or [cell.strip()[:30] for cell in cells[:8] if cell.strip()]
        lines.close()  # type: ignore[attr-defined]
    first = f" The first line reads: {', '.join(seen)}." if seen else ""
    raise Unreadable(
        "no_columns",
        "No line names a column with the start of each reading and one with kWh, Wh or kW."
        f"{first} {HOW}",
    )


def _collect(
    file: BinaryIO, encoding: str, header: int, columns: Columns, separator: str, clock: Clock
) -> Collected:  # fmt: skip
    got = Collected(clock=clock)
    for number, cells in _lines(file, encoding, separator):
        if number > header and any(cell.strip() for cell in cells):
            try:
                _take(got, columns, cells)
            except (ValueError, IndexError, OverflowError) as fault:
                raise Unreadable(
                    "bad_row",
                    f"Line {number:,} cannot be read: {_what(fault, cells)}. Write times as"
                    " 2026-01-31 14:15 or 1/31/2026 2:15 PM and numbers with a decimal point.",
                ) from fault
    if not any(len(rows) for rows in got.by_channel.values()):
        raise Unreadable(
            "no_readings",
            "The table has a header but no readings under it. Choose the file with the data.",
        )
    return got


def _what(fault: Exception, cells: Sequence[str]) -> str:
    if isinstance(fault, ValueError) and fault.args and str(fault.args[0]).strip():
        return f"“{str(fault.args[0])[:60]}”"
    return f"it has {counted(len(cells), 'column', 'columns')}"


def _take(got: Collected, columns: Columns, cells: Sequence[str]) -> None:
    if any(cell.strip() for cell in cells[columns.width :]):
        raise IndexError  # a decimal comma between commas would be read as two numbers
    begins = _when(got, columns.start, cells)
    ends = _when(got, columns.end, cells)
    seconds = _length(got, columns, cells)
    if begins is not None and ends is not None:
        seconds = ends - begins
    elif begins is None:
        begins = (ends or 0) - seconds
    quality = _quality(cells[columns.quality]) if columns.quality is not None else UNKNOWN_QUALITY
    meter = cells[columns.meter].strip() if columns.meter is not None else ""
    if columns.unit is not None:
        got.units[cells[columns.unit].strip().lower()] += 1
    for value in columns.values:
        text = cells[value.at].strip()
        if text.lower() in BLANK:
            got.blanks += 1
            continue
        rows = got.by_channel.setdefault((meter, value), Rows())
        rows.add(begins, seconds, _number(text), quality)


def _when(got: Collected, places: Sequence[int], cells: Sequence[str]) -> int | None:
    return got.clock.seconds(" ".join(cells[at].strip() for at in places)) if places else None


def _length(got: Collected, columns: Columns, cells: Sequence[str]) -> int:
    """Seconds; by the header's unit, as h:mm, or by its size, which is then said."""
    if columns.length is None:
        return 0
    text = cells[columns.length].strip().lower()
    if ":" in text:
        parts = [int(part) for part in text.split(":")]
        return sum(part * size for part, size in zip(parts, (3600, 60, 1), strict=False))
    match = re.fullmatch(r"([\d.]+)\s*([a-z]*)", text)
    if match is None:
        raise ValueError(text)
    number, unit = float(match[1]), match[2] or columns.length_unit
    if unit:
        if unit not in LENGTHS:
            raise ValueError(text)
        return round(number * LENGTHS[unit])
    got.length_guessed = True
    return round(number if number >= 300 else number * 60)


def _quality(text: str) -> int:
    word = text.strip().lower()
    if word in ("e", "est", "estimated", "estimate", "yes", "true", "y"):
        return ESTIMATED
    return EDITED if word in ("edited", "manual", "adjusted", "substituted") else UNKNOWN_QUALITY


def _number(text: str) -> float:
    if not NUMBER.fullmatch(text) or not any(digit.isdigit() for digit in text):
        raise ValueError(text)
    number = float(text.replace(",", ""))
    if not math.isfinite(number):
        raise ValueError(text)
    return number


def _table(got: Collected, columns: Columns, findings: list[Finding]) -> Table:
    table = Table(findings=findings)
    stated = _unit_column(got)
    for (meter, value), rows in got.by_channel.items():
        first = len(table.rows)
        kind = Kind(unit=value.unit, power_of_ten=value.power_of_ten, flow=value.flow)
        if stated and kind.unit is None:
            kind = replace(kind, unit=stated[0], power_of_ten=stated[1])
        spacing = _spacing(rows)
        if spacing and not any(rows.seconds):
            kind = replace(kind, seconds=spacing)
            if not columns.start:
                for index in range(len(rows)):
                    rows.starts[index] -= spacing
        for name in ("starts", "seconds", "values", "qualities"):
            getattr(table.rows, name).extend(getattr(rows, name))
        span = (first, len(table.rows))
        name = f"meter {meter}" if meter else f"column {value.at + 1}"
        table.channels.append(Channel(kind=kind, meter=meter, name=name, spans=(span,)))
    table.findings += _said(got, table)
    return table


def _unit_column(got: Collected) -> tuple[int, int] | None:
    if len(got.units) > 1:
        raise Unreadable(
            "units_mixed", "The column of units names more than one unit. Save a file for each."
        )
    return next((UNITS.get(word) for word in got.units), None)


def _spacing(rows: Rows) -> int:
    """The step between starts that comes most often; 0 where there is none."""
    steps = Counter(b - a for a, b in pairwise(sorted(rows.starts)) if b > a)
    return steps.most_common(1)[0][0] if steps else 0


def _said(got: Collected, table: Table) -> Iterator[Finding]:
    spaced = next((one.kind.seconds for one in table.channels if one.kind.seconds), None)
    if spaced:
        told = (
            f"No column says how long an interval is; the starts are {spaced / 60:,.4g} min apart."
        )
        yield Finding("length_from_spacing", told)
    if got.length_guessed:
        told = "The durations name no unit: from 300 up they were read as seconds, else minutes."
        yield Finding("length_unit_guessed", told)
    if got.blanks:
        told = f"{counted(got.blanks, 'cell is', 'cells are')} empty and was not counted."
        yield Finding("blanks", told.replace("are empty and was", "are empty and were"))
    if got.clock.twice:
        told = "The hour that comes twice in autumn was told apart by the order of the lines."
        yield Finding("hour_twice", told)
