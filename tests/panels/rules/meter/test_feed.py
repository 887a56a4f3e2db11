"""A feed says the same in every lawful form, and a damaged one is refused with what to do."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.rules.meter import Metered, Severity, Unreadable, read_file
from tests.panels import metering
from tests.panels.metering import DELIVERED, HERE, NEW_YEAR_2025, Row

ROWS = metering.quarters(2)
RECEIVED = DELIVERED | {"flowDirection": 19}


def read(parts: object, **said: object) -> Metered:
    return read_file(metering.opened(parts), HERE, **said)  # type: ignore[arg-type]


def codes(found: Metered) -> dict[str, Severity]:
    return {one.code: one.severity for one in found.findings}


def wh(found: Metered) -> list[int]:
    return [round(one.power * one.seconds / 3600) for one in found.series]


@pytest.mark.parametrize("form", [
    {}, {"prefix": "atom"}, {"types_last": False}, {"per_block": 7}, {"per_block": 10_000},
])  # fmt: skip
def test_prefixes_order_and_blocks_make_no_difference(form: dict[str, object]) -> None:
    found = read(metering.feed((DELIVERED, ROWS), **form))  # type: ignore[arg-type]
    assert wh(found) == [row[2] for row in ROWS]
    assert found.form == "green_button"


def test_links_after_the_content_tie_as_well() -> None:
    text = "".join(metering.feed((DELIVERED, ROWS[:4])))
    link = '<link rel="up" href="/UsagePoint/1/MeterReading/1/IntervalBlock"/>'
    moved = (
        text.replace(link, "")
        .replace("</IntervalBlock>", "")
        .replace("</espi:IntervalBlock></content>", f"</espi:IntervalBlock></content>{link}")
    )
    assert wh(read([moved])) == [row[2] for row in ROWS[:4]]


@pytest.mark.parametrize(("told", "factor"), [
    ({"powerOfTenMultiplier": 3}, 1000), ({"powerOfTenMultiplier": -3}, 0.001),
    ({"uom": 71}, 1), ({"uom": 38}, 0.25),
])  # fmt: skip
def test_unit_and_power_of_ten_scale_the_readings(told: dict[str, int], factor: float) -> None:
    found = read(metering.feed((DELIVERED | told, ROWS)))
    assert found.series.energy == pytest.approx(sum(row[2] for row in ROWS) * factor)
    assert found.series.unit == ("VA" if told.get("uom") == 71 else "W")


def test_a_missing_power_of_ten_is_asked_for_and_never_taken_as_one() -> None:
    silent = {name: code for name, code in DELIVERED.items() if name != "powerOfTenMultiplier"}
    with pytest.raises(Unreadable, match="does not say the scale") as refused:
        read(metering.feed((silent, ROWS)))
    assert list(refused.value.fields) == ["unit"]
    found = read(metering.feed((silent, ROWS)), unit="kWh")
    assert found.series.energy == 1000 * sum(row[2] for row in ROWS)
    assert codes(found)["scale_stated"] is Severity.CAUTION
    with pytest.raises(Unreadable, match="The file says Wh, not kW"):
        read(metering.feed((silent, ROWS)), unit="kW")


@pytest.mark.parametrize(("told", "words"), [
    ({"uom": 119}, "ft³"), ({"uom": 29}, "in V"), ({"uom": 73}, "VArh"),
    ({"flowDirection": 19}, "gave back"), ({"accumulationBehaviour": 3}, "register readings"),
    ({"uom": 999}, "code 999"),
])  # fmt: skip
def test_what_is_no_use_of_electricity_is_refused_by_name(told: dict[str, int], words: str) -> None:
    with pytest.raises(Unreadable, match=words):
        read(metering.feed((DELIVERED | told, ROWS)))


@pytest.mark.parametrize(("service", "word"), [(1, "gas"), (2, "water")])
def test_another_service_is_refused(service: int, word: str) -> None:
    with pytest.raises(Unreadable, match=word):
        read(metering.feed((DELIVERED, ROWS), service=service))


def test_the_delivered_channel_is_taken_and_the_other_bars_the_method() -> None:
    back = [(start, seconds, 5) for start, seconds, _ in ROWS]
    found = read(metering.feed((RECEIVED, back), (DELIVERED, ROWS)))
    assert wh(found) == [row[2] for row in ROWS]
    assert codes(found)["reverse_flow"] is Severity.BARS
    assert "channel 1 (Channel 1: Wh, received from the site" in _told(found, "several_channels")


def test_a_channel_for_returned_energy_that_stays_at_nothing_bars_nothing() -> None:
    nothing = [(start, seconds, 0) for start, seconds, _ in ROWS]
    found = read(metering.feed((DELIVERED, ROWS), (RECEIVED, nothing)))
    assert "reverse_flow" not in codes(found)


def test_net_and_negative_readings_bar_the_method() -> None:
    net = read(metering.feed((DELIVERED | {"flowDirection": 4}, ROWS)))
    below = read(metering.feed((DELIVERED, [(NEW_YEAR_2025, 900, -4), *ROWS[1:]])))
    assert codes(net)["reverse_flow"] is codes(below)["reverse_flow"] is Severity.BARS


def test_several_meters_are_told_and_another_can_be_named() -> None:
    more = [(start, seconds, value + 1) for start, seconds, value in ROWS]
    parts = list(metering.feed((DELIVERED, ROWS), (DELIVERED, more), meters=True))
    assert codes(read(parts))["several_meters"] is Severity.CAUTION
    assert wh(read(parts, channel=2)) == [row[2] for row in more]
    with pytest.raises(Unreadable, match="from 1 to 2"):
        read(parts, channel=3)


def test_a_reading_type_no_link_ties_is_taken_only_where_it_is_the_one() -> None:
    found = read(metering.feed((DELIVERED, ROWS), readings=False))
    assert codes(found)["type_not_linked"] is Severity.CAUTION
    two = list(metering.feed((DELIVERED, ROWS), (DELIVERED, ROWS), readings=False))
    with pytest.raises(Unreadable, match="unit and scale"):
        read(two)


def test_readings_without_times_share_their_block() -> None:
    text = "".join(metering.feed((DELIVERED, ROWS), per_block=96))
    start = text.index("<espi:timePeriod>")
    while start >= 0:
        end = text.index("</espi:timePeriod>", start) + len("</espi:timePeriod>")
        text = text[:start] + text[end:]
        start = text.find("<espi:timePeriod>")
    found = read([text])
    assert [(one.start, one.seconds) for one in found.series] == [row[:2] for row in ROWS]


@pytest.mark.parametrize("quality", [0, 8, 10, 17, 200, 999_999])
def test_estimated_readings_are_counted(quality: int) -> None:
    found = read(metering.feed((DELIVERED, ROWS), quality=quality))
    assert ("quality" in codes(found)) == (quality in (8, 10))


def test_the_files_own_clock_is_held_against_the_sites() -> None:
    parameters = (
        "<entry><content><espi:LocalTimeParameters><espi:tzOffset>-28800</espi:tzOffset>"
        "</espi:LocalTimeParameters></content></entry></feed>"
    )
    text = "".join(metering.feed((DELIVERED, ROWS))).replace("</feed>", parameters)
    assert "counts -8 h from UTC, the site -5 h" in _told(read([text]), "other_clock")


def _told(found: Metered, code: str) -> str:
    return next(one.sentence for one in found.findings if one.code == code)


@settings(max_examples=40, deadline=None)
@given(
    values=st.lists(st.integers(0, 5000), min_size=2, max_size=300),
    start=st.datetimes(dt.datetime(2015, 1, 1), dt.datetime(2030, 1, 1)),  # noqa: DTZ001
    per_block=st.integers(1, 100),
)
def test_any_readings_come_back_in_order(
    values: list[int], start: dt.datetime, per_block: int
) -> None:
    first = int(start.replace(tzinfo=dt.UTC).timestamp()) // 900 * 900
    rows: Sequence[Row] = [(first + 900 * n, 900, value) for n, value in enumerate(values)]
    assert wh(read(metering.feed((DELIVERED, rows), per_block=per_block))) == values
