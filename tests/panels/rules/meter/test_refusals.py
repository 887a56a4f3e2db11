"""A damaged, foreign or malicious file is refused with a sentence that says what to do."""

from __future__ import annotations

import contextlib
import io
import math
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.rules.meter import Unreadable, read_file
from panels.rules.meter.rows import Rows
from tests.panels import metering
from tests.panels.metering import DELIVERED, HERE

ROWS = metering.quarters(3)
FEED = "".join(metering.feed((DELIVERED, ROWS))).encode()
TABLE = metering.table(ROWS).read()
TO_DO = ("Ask", "choose", "Choose", "Write", "write", "Save", "Unpack", "Download", "Look", "Name")


def refused(data: bytes) -> Unreadable:
    with pytest.raises(Unreadable) as caught:
        read_file(io.BytesIO(data), HERE)
    assert any(word in caught.value.sentence for word in TO_DO), caught.value.sentence
    assert caught.value.fields
    return caught.value


@pytest.mark.parametrize("end", range(1024, len(FEED), 1024))
def test_a_feed_cut_off_at_any_kilobyte_is_refused(end: int) -> None:
    assert refused(FEED[:end]).code == "broken_xml"


BOMB = b"""<?xml version="1.0"?><!DOCTYPE feed [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]><feed xmlns="http://www.w3.org/2005/Atom">&c;</feed>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE feed SYSTEM "file:///etc/passwd"><feed/>"""


def zipped() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        archive.writestr("year.xml", FEED)
    return held.getvalue()


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b" \r\n\t ", "empty"),
        (BOMB, "entities"),
        (OUTSIDE, "entities"),
        (zipped(), "not_text"),
        (b"\x1f\x8b\x08" + bytes(50), "not_text"),
        (b"%PDF-1.7 a bill", "not_text"),
        (b"\xd0\xcf\x11\xe0" + bytes(60), "not_text"),
        (bytes(range(256)) * 8, "not_text"),
        (b"<html><body><p>Please sign in</p></body></html>", "no_readings"),
        (b"<?xml version='1.0'?><feed xmlns='http://www.w3.org/2005/Atom'/>", "no_readings"),
        (FEED.replace(b"http://naesb.org/espi", b"http://naesb.org/espi2"), "wrong_namespace"),
        (FEED.replace(b'encoding="UTF-8"', b'encoding="klingon"'), "encoding"),
        (FEED.replace(b'encoding="UTF-8"', b'encoding="UTF-16"'), "broken_xml"),
        (FEED.replace(b"House 1", b"Caf\xe9"), "broken_xml"),
        (FEED.replace(b"<espi:value>", b"<espi:value>1.5", 1), "bad_number"),
        (FEED.replace(b"<espi:value>", b"<espi:value>" + b"9" * 5000, 1), "bad_number"),
        (FEED.replace(b"<espi:duration>900", b"<espi:duration>-900"), "no_length"),
        (FEED.replace(b"<espi:start>17", b"<espi:start>917"), "no_start"),
        (FEED.replace(b"<espi:uom>72", b"<espi:uom>kWh"), "bad_reading_type"),
        (
            FEED.replace(b"Multiplier>0", b"Multiplier>400"),
            "bad_reading_type",
        ),
        (b"<a>" * 50_000, "broken_xml"),
        (b"<a>" * 50_000 + b"</a>" * 50_000, "no_readings"),
        (b"<a>" + b"x" * 5_000_000 + b"</a>", "no_readings"),
        (b"day,what\n1,2\n", "no_columns"),
        (b"a line without any table at all", "no_columns"),
        (b"start,kWh\n", "no_readings"),
        (b"start,kWh\n2025-01-01 00:00,0,35\n", "bad_row"),
        (b'start;kWh\n2025-01-01 00:00;"0,35"\n', "bad_row"),
        (b"start,kWh\n31/12/2025 10:00,1\n", "bad_row"),
        (b"start,kWh\n2025-02-30 10:00,1\n", "bad_row"),
        (b"start,kWh\nyesterday,1\n", "bad_row"),
        (b"start,kWh\n2025-01-01,1e400\n", "bad_row"),
        (b"start,kWh\n2025-01-01 00:00\n", "bad_row"),
        (b"start,duration,kWh\n2025-01-01 00:00,soon,1\n", "bad_row"),
        (b"start,duration (fortnights),kWh\n2025-01-01 00:00,1 fortnight,1\n", "bad_row"),
        (b"start,kWh\n2025-01-01 00:00,1\n", "no_length"),
        (b"start,usage\n2025-01-01 00:00,1\n2025-01-01 00:15,1\n", "scale_unknown"),
        (b"start,therms\n2025-01-01 00:00,1\n2025-01-02 00:00,1\n", "not_electricity"),
        (b"start,kWh received\n2025-01-01,1\n2025-01-02,1\n", "not_electricity"),
        (b"start,usage,units\n2025-01-01,1,kWh\n2025-01-02,1,Wh\n", "units_mixed"),
    ],
)
def test_what_cannot_be_used_says_what_to_do(data: bytes, code: str) -> None:
    assert refused(data).code == code


def test_a_bad_row_is_named_by_its_line() -> None:
    lines = TABLE.decode().split("\n")
    lines[100] = lines[100].replace("2025", "25th of")
    assert "Line 101 cannot be read" in refused("\n".join(lines).encode()).sentence


def test_more_readings_than_two_years_by_the_minute_are_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("panels.rules.meter.rows.MOST", 200)
    assert refused(FEED).code == refused(TABLE).code == "too_many_readings"
    assert Rows().starts.itemsize == 8  # seconds since 1970 do not fit into four bytes for ever


@settings(max_examples=150, deadline=None)
@given(data=st.binary(max_size=600))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    _read_or_refused(data)


@settings(max_examples=150, deadline=None)
@given(
    source=st.sampled_from([FEED, TABLE]),
    at=st.integers(0, 4000),
    length=st.integers(0, 400),
    instead=st.binary(max_size=30),
)
def test_any_damage_is_read_or_refused(source: bytes, at: int, length: int, instead: bytes) -> None:
    _read_or_refused(source[:at] + instead + source[at + length :])


@settings(max_examples=150, deadline=None)
@given(
    cells=st.lists(
        st.lists(
            st.sampled_from([
                "start", "end", "kWh", "kW", "usage", "duration", "date", "time", "meter", "units",
                "2025-03-09 02:30", "1/2/2025 12:00 AM", "12:15", "24:00", "15", "0.5", "-1", "",
                "kwh", "x", "1e400", "nan", "900", "2025-11-02T01:30:00-05:00",
            ]),
            max_size=6,
        ),
        max_size=12,
    ),
    mark=st.sampled_from([",", ";", "\t", "|"]),
)  # fmt: skip
def test_any_table_is_read_or_refused(cells: list[list[str]], mark: str) -> None:
    _read_or_refused("\n".join(mark.join(row) for row in cells).encode())


def _read_or_refused(data: bytes) -> None:
    with contextlib.suppress(Unreadable):
        found = read_file(io.BytesIO(data), HERE)
        assert found.series.covered > 0
        assert math.isfinite(found.series.energy)
