"""What is in this file of a meter, whatever its form, and what is to be said about it?"""

from __future__ import annotations

import codecs
import datetime as dt
from dataclasses import dataclass
from typing import BinaryIO

from panels.rules.meter import judge, order
from panels.rules.meter.channels import choose
from panels.rules.meter.delimited import read_table
from panels.rules.meter.demand import demand
from panels.rules.meter.feed import read_feed
from panels.rules.meter.findings import Finding, Severity, Unreadable
from panels.rules.meter.links import linked
from panels.rules.meter.series import Reading, Series

GREEN_BUTTON, TABLE = "green_button", "csv"
HEAD = 2048
FOREIGN = {
    b"PK\x03\x04": "a ZIP archive or a spreadsheet. Unpack it, or save the sheet as CSV",
    b"\x1f\x8b": "a compressed file. Unpack it",
    b"%PDF": "a PDF. Ask the utility for the data as Green Button XML or CSV",
    b"\xd0\xcf\x11\xe0": "an old spreadsheet. Save it as CSV",
}
MARKED = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


@dataclass(frozen=True, kw_only=True)
class Metered:
    """The readings of one channel in order, and everything found in the file."""

    form: str
    channel: str
    series: Series
    demand: Reading
    days: int
    findings: tuple[Finding, ...]

    @property
    def barred(self) -> tuple[Finding, ...]:
        """Why the metered method is closed; empty where it is open."""
        return tuple(one for one in self.findings if one.severity is Severity.BARS)


def read_file(
    file: BinaryIO, zone: dt.tzinfo,
    *, unit: str = "", channel: int | None = None, on: dt.date | None = None,
) -> Metered:  # fmt: skip
    """The delivered electricity in a Green Button XML or CSV file open for reading bytes.

    `zone` is the site's, for times without an offset. `unit` ("kWh", "Wh", "kW", "W", "VAh",
    "VA") is what a person states where the file does not say; `channel` counts from 1; `on` is
    today. The file is read in pieces; memory grows with the readings only (25 bytes each).
    Raises `Unreadable` with a sentence that says what to do.
    """
    form = _form(file)
    findings: list[Finding] = []
    offset = None
    if form == GREEN_BUTTON:
        feed = read_feed(file)
        found = linked(feed)
        offset, channels, rows = found.offset, found.channels, feed.rows
        findings += found.findings
    else:
        table = read_table(file, zone, unit=unit)
        channels, rows = table.channels, table.rows
        findings += table.findings
    choice = choose(channels, rows, unit=unit, number=channel)
    done = order.in_order(choice.rows, choice.channel.kind)
    findings += [*choice.findings, *order.told(done, zone)]
    findings += judge.judged(done.series, done.qualities, zone, offset=offset, on=on)
    return Metered(
        form=form,
        channel=choice.channel.words,
        series=done.series,
        demand=demand(done.series),
        days=judge.days_of(done.series),
        findings=tuple({one.code: one for one in reversed(findings)}.values())[::-1],
    )


def _form(file: BinaryIO) -> str:
    """Green Button XML or a table of text, told by how the file begins."""
    head = file.read(HEAD)
    file.seek(0)
    if not head.strip():
        raise Unreadable("empty", "The file is empty. Download it again.")
    for magic, told in FOREIGN.items():
        if head.startswith(magic):
            raise Unreadable("not_text", f"This is {told}, then choose the file in it.")
    plain = head.decode("utf-16", "replace") if head.startswith(MARKED) else ""
    if not plain and b"\0" in head:
        raise Unreadable(
            "not_text", "This is no text. Choose the Green Button XML or CSV from the utility."
        )
    begins = (plain or head.decode("latin-1")).lstrip("\ufeffï»¿ \r\n\t")
    return GREEN_BUTTON if begins.startswith("<") else TABLE
