"""Is a size read as people write it, and does it know which is larger?"""

from __future__ import annotations

import pytest

from panels.rules.errors import BadDescription
from panels.rules.wire.sizes import GAUGES, SIZES, metal_of, raceway_of, size_of


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("12", "12"),
        ("12 AWG", "12"),
        ("#2/0", "2/0"),
        (" 250 kcmil ", "250"),
        ("250 MCM", "250"),
        (12, "12"),
    ],
)
def test_a_size_is_read_as_people_write_it(written: str | int, name: str) -> None:
    assert size_of(written).name == name


@pytest.mark.parametrize(
    "written", ["13", "5/0", "", "2/0 mm", "0.5", "12 ft", 1.5, True, None, [12], "1" * 5000]
)
def test_what_is_no_size_is_refused_with_those_there_are(written: object) -> None:
    with pytest.raises(BadDescription, match=r"not a conductor size. There are 14, 12, 10, .* 600"):
        size_of(written)  # type: ignore[arg-type]


def test_sizes_rise_and_say_their_kind() -> None:
    assert list(SIZES) == sorted(SIZES)
    assert size_of("1/0") > size_of("1") > size_of("14")
    assert (str(size_of("1/0")), str(size_of("250"))) == ("1/0 AWG", "250 kcmil")


def test_the_gauge_is_the_geometric_one() -> None:
    """ASTM B258: 36 AWG is 5 mil, 4/0 is 460 mil, 39 equal steps between; printed to 4 digits."""
    numbers = {name: -int(name[0]) + 1 if "/" in name else int(name) for name in GAUGES}
    for name, mils in GAUGES.items():
        diameter = 5 * 92 ** ((36 - numbers[name]) / 39)
        assert mils == pytest.approx(diameter**2, rel=0.001), name


def test_other_metals_and_raceways_are_refused() -> None:
    with pytest.raises(BadDescription, match='"cu" or "al"'):
        metal_of("copper")
    with pytest.raises(BadDescription, match='"pvc"'):
        raceway_of("emt")
