"""Tables of readings as utilities write them, and the two days the clocks change."""

from __future__ import annotations

import codecs
import datetime as dt
import zoneinfo

import pytest

from panels.rules.meter import Metered, Severity, read_file
from tests.panels import metering
from tests.panels.metering import HERE

QUARTER_KWH = [("00:00", 0.25), ("00:15", 0.5), ("00:30", 0.125)]
EXPECTED = [1000.0, 2000.0, 500.0]


def read(text: str | bytes, zone: dt.tzinfo = HERE, **said: object) -> Metered:
    data = text if isinstance(text, bytes) else text.encode()
    return read_file(metering.opened(data), zone, **said)  # type: ignore[arg-type]


def powers(found: Metered) -> list[float]:
    return [round(one.power, 6) for one in found.series]


def local(found: Metered, zone: dt.tzinfo = HERE) -> list[str]:
    return [f"{dt.datetime.fromtimestamp(one.start, zone):%m-%d %H:%M %z}" for one in found.series]


def codes(found: Metered) -> dict[str, Severity]:
    return {one.code: one.severity for one in found.findings}


SAME = [
    "start,duration (min),kWh\n2025-01-01 00:00,15,.25\n2025-01-01 00:15,15,.5\n"
    "2025-01-01 00:30,15,0.125",
    "Start Time;Duration;Energy (Wh)\n2025-01-01T00:00;900;250\n2025-01-01T00:15;900;500\n"
    "2025-01-01T00:30;900;125",
    "timestamp\tkW\n1/1/2025 12:00 AM\t1\n1/1/2025 12:15 AM\t2\n1/1/2025 12:30 AM\t0.5",
    "interval start,interval end,usage,units\n2025-01-01 00:00,2025-01-01 00:15,0.25,kWh\n"
    "2025-01-01 00:15,2025-01-01 00:30,0.5,kWh\n2025-01-01 00:30,2025-01-01 00:45,0.125,kWh",
    "Electric usage of 12 Mill Lane\n\nDate,Start Time,End Time,Usage (kWh),Cost\n"
    "1/1/25,0:00,0:15,0.25,$0.03\n1/1/25,0:15,0:30,0.50,$0.06\n1/1/25,0:30,0:45,0.125,$0.01",
    "interval end|duration (s)|kWh\n2025-01-01 00:15|900|0.25\n2025-01-01 00:30|900|0.5\n"
    "2025-01-01 00:45|900|0.125",
    "interval end,kWh\n2025-01-01 00:15,0.25\n2025-01-01 00:30,0.5\n2025-01-01 00:45,0.125",
    "start,duration,kWh\n2025-01-01T05:00:00Z,0:15,0.25\n2025-01-01T05:15:00Z,0:15,0.5\n"
    "2025-01-01T05:30:00Z,0:15,0.125",
    "start,kWh\n1735707600,0.25\n1735708500,0.5\n1735709400,0.125",
    "start,kWh,quality\n2025-01-01 00:30-05:00,0.125,actual\n"
    "2025-01-01 00:00-05:00,0.25,actual\n2025-01-01 00:15-05:00,0.5,actual",
]


@pytest.mark.parametrize("text", SAME)
def test_the_same_three_readings_in_many_hands(text: str) -> None:
    found = read(text)
    assert powers(found) == EXPECTED
    assert found.series.first == metering.NEW_YEAR_2025
    assert found.series.interval == 900


@pytest.mark.parametrize(
    ("encode", "told"),
    [("utf-8", False), ("utf-8-sig", False), ("utf-16", False), ("latin-1", True)],
)
def test_encodings_are_read_and_the_odd_one_is_told(encode: str, told: bool) -> None:
    text = "Zähler,start,duration (min),kWh\n12°,2025-01-01 00:00,15,1\n12°,2025-01-01 00:15,15,1\n"
    found = read(text.encode(encode))
    assert powers(found) == [4000.0, 4000.0]
    assert ("encoding" in codes(found)) is told


def test_a_mark_at_the_start_is_no_part_of_the_header() -> None:
    assert powers(read(codecs.BOM_UTF8 + b"start,duration (min),kW\n2025-01-01 00:00,15,3\n"))


def test_the_hour_that_comes_twice_is_told_by_the_order_of_the_lines() -> None:
    rows = metering.quarters(2, start=int(dt.datetime(2025, 11, 2, tzinfo=HERE).timestamp()))
    found = read_file(metering.table(rows), HERE)
    assert [one.start for one in found.series] == [row[0] for row in rows]
    assert local(found)[4:13:4] == ["11-02 01:00 -0400", "11-02 01:00 -0500", "11-02 02:00 -0500"]
    assert "hour_twice" in codes(found)
    assert not {"gaps", "overlaps", "duplicates", "conflicts"} & set(codes(found))


def test_the_hour_that_is_skipped_leaves_no_gap() -> None:
    rows = metering.quarters(2, start=int(dt.datetime(2025, 3, 9, tzinfo=HERE).timestamp()))
    found = read_file(metering.table(rows), HERE)
    assert local(found)[7:9] == ["03-09 01:45 -0500", "03-09 03:00 -0400"]
    assert not {"gaps", "overlaps", "standard_time"} & set(codes(found))


def test_a_file_whose_clock_never_changes_is_read_in_standard_time() -> None:
    rows = metering.quarters(3, start=int(dt.datetime(2025, 3, 8, tzinfo=HERE).timestamp()))
    standard = dt.timezone(dt.timedelta(hours=-5))
    found = read_file(metering.table(rows, zone=standard), HERE)
    assert [one.start for one in found.series] == [row[0] for row in rows]
    assert codes(found)["standard_time"] is Severity.CAUTION


def test_a_year_of_local_times_comes_out_as_it_went_in() -> None:
    rows = [(metering.NEW_YEAR_2025 + n * 3600, 3600, n % 500) for n in range(8760)]
    for zone in (HERE, zoneinfo.ZoneInfo("America/Denver"), zoneinfo.ZoneInfo("America/Phoenix")):
        found = read_file(metering.table(rows, zone=zone), zone)
        assert [one.start for one in found.series] == [row[0] for row in rows]
        assert found.series.energy == pytest.approx(sum(row[2] for row in rows))


def test_what_is_given_back_bars_the_method_and_is_no_use() -> None:
    found = read(
        "start,duration (min),kWh delivered,kWh received\n"
        "2025-01-01 00:00,15,0.25,0\n2025-01-01 00:15,15,0.5,0.75\n"
    )
    assert powers(found) == [1000.0, 2000.0]
    assert codes(found)["reverse_flow"] is Severity.BARS


def test_two_meters_in_a_table_are_told_apart() -> None:
    lines = ["meter,start,duration (min),kWh"]
    for n in range(4):
        lines += [
            f"{name},2025-01-01 00:{n * 15:02},15,{use}" for name, use in (("A", 1), ("B", 2))
        ]
    assert powers(read("\n".join(lines))) == [4000.0] * 4
    assert powers(read("\n".join(lines), channel=2)) == [8000.0] * 4
    assert codes(read("\n".join(lines)))["several_meters"] is Severity.CAUTION


def test_empty_cells_and_estimates_are_counted() -> None:
    found = read(
        "start,duration (min),kWh,estimated\n2025-01-01 00:00,15,0.25,E\n"
        "2025-01-01 00:15,15,,\n2025-01-01 00:30,15,n/a,\n2025-01-01 00:45,15,0.5,\n"
    )
    told = {one.code: one.sentence for one in found.findings}
    assert told["blanks"].startswith("2 cells are empty")
    assert "1 estimated by reference" in told["quality"]
    assert told["gaps"].startswith("1 gap, 30 minutes")


def test_the_unit_of_a_bare_column_is_asked_for_then_said() -> None:
    text = "timestamp,usage\n2025-01-01 00:00,0.25\n2025-01-01 00:15,0.5\n"
    found = read(text, unit="kWh")
    assert powers(found) == [1000.0, 2000.0]
    assert {"scale_stated", "length_from_spacing"} <= set(codes(found))


def test_durations_without_a_unit_are_read_by_their_size_and_that_is_said() -> None:
    for written in ("15", "900"):
        found = read(f"start,duration,kWh\n2025-01-01 00:00,{written},0.25\n")
        assert powers(found) == [1000.0]
        assert "length_unit_guessed" in codes(found)


def test_thousands_are_read_where_they_are_set_apart() -> None:
    assert powers(read('start,duration (min),Wh\n2025-01-01 00:00,15,"1,250.5"\n')) == [5002.0]
