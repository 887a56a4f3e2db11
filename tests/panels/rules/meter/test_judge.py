"""How long, how fine, how old and how large the readings are, said in words."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.rules.meter import Metered, Severity, read_file
from tests.panels import metering
from tests.panels.metering import HERE, NEW_YEAR_2025


def read(rows: list[metering.Row], **said: object) -> Metered:
    return read_file(metering.green_button(rows), HERE, **said)  # type: ignore[arg-type]


def by(seconds: int, count: int, wh: int = 400) -> Metered:
    return read([(NEW_YEAR_2025 + n * seconds, seconds, wh) for n in range(count)])


def severities(found: Metered) -> dict[str, Severity]:
    return {one.code: one.severity for one in found.findings}


@pytest.mark.parametrize(
    ("days", "code"),
    [(29, "too_short"), (30, "short"), (364, "short"), (365, None), (400, None)],
)
def test_a_year_thirty_days_or_less(days: int, code: str | None) -> None:
    found = by(3600, days * 24)
    assert found.days == days
    assert {"too_short", "short"} & set(severities(found)) == ({code} if code else set())
    assert bool(found.barred) == (days < 30)


@pytest.mark.parametrize(
    ("seconds", "code", "severity"),
    [
        (300, None, None), (900, None, None), (1800, "coarse", Severity.CAUTION),
        (3600, "coarse", Severity.CAUTION), (7200, "too_coarse", Severity.BARS),
        (86_400, "too_coarse", Severity.BARS),
    ],
)  # fmt: skip
def test_how_fine(seconds: int, code: str | None, severity: Severity | None) -> None:
    found = severities(by(seconds, 40 * 86_400 // seconds))
    assert {"coarse", "too_coarse"} & set(found) == ({code} if code else set())
    assert not code or found[code] is severity


def test_a_year_with_an_hour_missing_is_a_year_and_one_with_a_month_missing_is_not() -> None:
    rows = [(NEW_YEAR_2025 + n * 3600, 3600, 400) for n in range(8760)]
    assert read(rows[:5000] + rows[5004:]).days == 365
    assert read(rows[:5000] + rows[5000 + 30 * 24 :]).days == 335


@pytest.mark.parametrize(("wh", "told"), [(60_000, True), (400, False), (4, True), (0, True)])
def test_what_no_dwelling_draws_is_doubted(wh: int, told: bool) -> None:
    assert ("implausible" in severities(by(900, 96 * 31, wh))) is told


@pytest.mark.parametrize(
    ("on", "code"),
    [
        (dt.date(2026, 3, 1), None), (dt.date(2027, 1, 2), "old"),
        (dt.date(2025, 6, 1), "in_the_future"), (dt.date(2025, 12, 31), None),
    ],
)  # fmt: skip
def test_how_old(on: dt.date, code: str | None) -> None:
    found = severities(read(metering.quarters(365), on=on))
    assert {"old", "in_the_future"} & set(found) == ({code} if code else set())


def test_days_of_23_and_25_hours_are_named_and_compared_by_power() -> None:
    days = []
    day = dt.datetime(2025, 3, 1, tzinfo=HERE)
    for _ in range(260):
        following = day + dt.timedelta(days=1)
        seconds = int(following.timestamp() - day.timestamp())
        days.append((int(day.timestamp()), seconds, seconds // 36))  # 100 W all day
        day = following
    days[20] = (days[20][0], days[20][1], 2430)  # 101.25 W for 24 hours
    found = read(days)
    told = {one.code: one.sentence for one in found.findings}
    assert "2025-03-09 (23 h), 2025-11-02 (25 h)" in told["clock_change"]
    assert "merely the longest (25 hours)" in told["clock_change"]
    assert found.demand.power == 101.25
