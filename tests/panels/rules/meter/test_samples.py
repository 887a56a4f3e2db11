"""Published sample files come out as they were read elsewhere: counts, sums and peaks.

Figures: check values, section 6 (read in the files themselves, mark V). The independent reading
below is the standard library's whole-tree parser and a dictionary, nothing of ours.
"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from pathlib import Path
from xml.etree import ElementTree

import pytest

from panels.rules.meter import Metered, Severity, Unreadable, read_file
from tests.panels.metering import SAMPLES

PACIFIC = zoneinfo.ZoneInfo("America/Los_Angeles")
ESPI = "{http://naesb.org/espi}"


def sample(start: str) -> Path:
    found = sorted(SAMPLES.glob(f"{start}*.xml"))
    if not found:
        pytest.skip(f"the sample file {start}… is not beside this checkout")
    return found[0]


def read(start: str, **said: object) -> Metered:
    with sample(start).open("rb") as file:
        return read_file(file, PACIFIC, **said)  # type: ignore[arg-type]


def by_the_library(path: Path) -> dict[tuple[int, int], int]:
    """Value by start and duration: repeated readings fall together."""
    found = {}
    tree = ElementTree.parse(path)  # noqa: S314 - the samples are known
    for reading in tree.iter(f"{ESPI}IntervalReading"):
        start = int(reading.findtext(f"{ESPI}timePeriod/{ESPI}start", ""))
        seconds = int(reading.findtext(f"{ESPI}timePeriod/{ESPI}duration", ""))
        found[start, seconds] = int(reading.findtext(f"{ESPI}value", ""))
    return found


def at(text: str) -> int:
    return int(dt.datetime.fromisoformat(text).timestamp())


FILES = [
    ("Inland_Single_Family", 8760, 8_343_306, 2370.0, "2011-08-28T22:00Z"),
    ("Coastal_Multi_Family", 8760, 4_425_305, 944.0, "2011-12-27T15:00Z"),
    ("TestGBDataHourlyNineDays", 216, 199_563, 1365.0, None),
    ("electric_containerized", 8, 4086, 611.0, None),
]


@pytest.mark.parametrize(("name", "count", "wh", "peak", "when"), FILES)
def test_counts_sums_and_peaks_are_the_published_ones(
    name: str, count: int, wh: int, peak: float, when: str | None
) -> None:
    found = read(name)
    assert (len(found.series), found.series.energy) == (count, wh)
    assert found.demand.power == peak
    if when:
        assert found.demand.start == at(when)


@pytest.mark.parametrize("name", [one[0] for one in FILES])
def test_every_reading_is_the_one_the_library_reads(name: str) -> None:
    theirs = by_the_library(sample(name))
    ours = {
        (one.start, one.seconds): round(one.power * one.seconds / 3600, 6)
        for one in read(name).series
    }
    assert ours == theirs


def test_a_year_of_days_has_two_short_ones_a_long_one_and_no_demand() -> None:
    found = read("TestGBDataOneYearDaily")
    lengths = list(found.series.seconds)
    counted = {one: lengths.count(one) for one in set(lengths)}
    assert counted == {86_400: 441, 82_800: 2, 90_000: 1}
    assert (len(found.series), found.series.energy) == (444, 9_917_817)
    codes = {one.code: one for one in found.findings}
    assert codes["too_coarse"].severity is Severity.BARS
    assert "merely the longest (25 hours)" in codes["clock_change"].sentence
    assert found.demand.seconds == 82_800  # by power it is one of the short days


def test_the_gap_of_the_small_sample_is_found() -> None:
    told = {one.code: one.sentence for one in read("electric_containerized").findings}
    assert told["gaps"].startswith("1 gap, 8 hours without a reading; the longest begins")
    assert "2011-01-01 04:00" in told["gaps"]  # 12:00Z


def test_gas_is_refused() -> None:
    with pytest.raises(Unreadable, match="This is gas data"):
        read("ngma_natural_gas")


def test_blocks_without_a_reading_type_are_not_guessed_at() -> None:
    with pytest.raises(Unreadable) as refused:
        read("verdigris_PGEIntervalBlock")
    assert refused.value.code == "scale_unknown"
    assert "unit" in refused.value.fields


def test_blocks_without_a_reading_type_are_read_in_the_unit_stated() -> None:
    found = read("verdigris_PGEIntervalBlock", unit="Wh")
    theirs = by_the_library(sample("verdigris_PGEIntervalBlock"))
    assert len(found.series) == 2556 - 276 == len(theirs)
    assert found.series.energy == sum(theirs.values())
    assert found.demand.power == 1_969_800
    codes = {one.code: one.sentence for one in found.findings}
    assert codes["duplicates"].startswith("276 readings are repeated exactly")
    assert {"scale_stated", "implausible", "coarse", "short"} <= set(codes)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("verdigris_PGEReadingType", "describes kinds of readings but holds none"),
        ("verdigris_PGELocalTimeParameters", "holds no readings"),
    ],
)
def test_parts_without_readings_say_what_they_are(name: str, told: str) -> None:
    with pytest.raises(Unreadable, match=told):
        read(name)
