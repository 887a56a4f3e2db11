"""Repeated, contradicting, overlapping and missing readings, and what becomes of them."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from panels.rules.meter import Metered, Severity, read_file
from panels.rules.meter.catalogue import Kind
from panels.rules.meter.demand import demand
from panels.rules.meter.order import in_order
from panels.rules.meter.rows import Rows
from panels.rules.meter.series import Reading, Series, packed, unpacked
from tests.panels import metering
from tests.panels.metering import HERE, NEW_YEAR_2025, Row

T, Q = NEW_YEAR_2025, 900
WH = Kind(unit=72, power_of_ten=0)


def read(rows: list[Row]) -> Metered:
    return read_file(metering.green_button(rows), HERE)


def told(found: Metered) -> dict[str, str]:
    return {one.code: one.sentence for one in found.findings}


def wh(found: Metered) -> list[int]:
    return [round(one.power * one.seconds / 3600) for one in found.series]


def test_an_exact_repeat_counts_once() -> None:
    found = read([(T, Q, 5), (T + Q, Q, 6), (T, Q, 5), (T + Q, Q, 6), (T, Q, 5)])
    assert wh(found) == [5, 6]
    assert told(found)["duplicates"].startswith("3 readings are repeated")


def test_of_two_that_contradict_the_higher_is_taken_and_told() -> None:
    for rows in ([(T, Q, 5), (T, Q, 9)], [(T, Q, 9), (T, Q, 5)]):
        found = read([*rows, (T + Q, Q, 1)])
        assert wh(found) == [9, 1]
        assert told(found)["conflicts"].startswith("1 reading contradicts another")


def test_an_hour_over_its_own_quarters_counts_no_energy_twice() -> None:
    quarters = [(T + n * Q, Q, 10) for n in range(4)]
    found = read([*quarters, (T, 3600, 40)])
    assert wh(found) == [10, 10, 10, 10]
    assert told(found)["overlaps"].startswith("1 reading overlaps another")


def test_a_higher_reading_that_begins_within_another_ends_it() -> None:
    found = read([(T, 3600, 100), (T + 1800, 3600, 300)])
    assert [(one.start - T, one.seconds, one.power) for one in found.series] == [
        (0, 1800, 100.0), (1800, 3600, 300.0),
    ]  # fmt: skip


def test_gaps_are_counted_with_their_longest() -> None:
    found = read([(T, Q, 5), (T + 3 * Q, Q, 5), (T + 8 * Q, Q, 5)])
    assert told(found)["gaps"].startswith("2 gaps, 1.5 hours without a reading; the longest begins")
    assert "2025-01-01 01:00 and lasts 1 hour" in told(found)["gaps"]


def test_finer_readings_are_averaged_over_a_quarter_hour_for_the_demand() -> None:
    minutes = [(T + 60 * n, 60, 0) for n in range(120)]
    spike = [(T + 60 * n, 60, 100 if 30 <= n < 40 else 10) for n in range(120)]
    assert read([*minutes]).demand.power == 0
    found = read(spike)
    assert found.series.peak.power == 6000
    assert found.demand.power == (10 * 6000 + 5 * 600) / 15
    assert found.demand.seconds == 900


def test_an_average_is_not_held_across_a_gap() -> None:
    rows = [(T + 60 * n, 60, 100) for n in range(10)]
    rows += [(T + 60 * n, 60, 1) for n in range(20, 60)]
    assert read(rows).demand.power == 60


ANY = st.lists(
    st.tuples(st.integers(0, 40), st.sampled_from([1, 2, 4]), st.integers(0, 50)),
    min_size=1, max_size=60,
)  # fmt: skip


def ordered(rows: list[Row]) -> Series:
    held = Rows()
    for start, seconds, value in rows:
        held.add(T + start * Q, seconds * Q, float(value))
    return in_order(held, WH).series


@settings(max_examples=200, deadline=None)
@given(rows=ANY)
def test_whatever_comes_in_the_series_is_in_order_and_keeps_the_peak(rows: list[Row]) -> None:
    series = ordered(rows)
    ends = [one.end for one in series]
    assert all(end <= start for end, start in zip(ends, series.starts[1:], strict=False))
    assert max(series.powers) == max(value * 3600 / (seconds * Q) for _, seconds, value in rows)


@settings(max_examples=100, deadline=None)
@given(rows=ANY, chance=st.randoms())
def test_the_order_of_the_file_makes_no_difference(rows: list[Row], chance: object) -> None:
    again = rows + rows
    chance.shuffle(again)  # type: ignore[attr-defined]
    assert list(ordered(again)) == list(ordered(rows))


@settings(max_examples=100, deadline=None)
@given(rows=ANY)
def test_a_series_is_stored_and_read_back_exactly(rows: list[Row]) -> None:
    series = ordered(rows)
    assert list(unpacked(packed(series), unit="W")) == list(series)
    assert demand(series) == series.peak


def test_an_empty_series_is_stored_as_well() -> None:
    assert list(unpacked(packed(Series()), unit="W")) == []


def test_a_year_of_quarter_hours_takes_little_room() -> None:
    found = read(metering.quarters(365))
    assert len(packed(found.series)) < 100_000
    assert next(iter(found.series)) == Reading(T, Q, metering.quarters(1)[0][2] * 4.0)
    assert not [one for one in found.findings if one.severity is not Severity.NOTE]
