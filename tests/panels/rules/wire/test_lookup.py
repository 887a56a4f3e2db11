"""Do the conductor tables hold what is printed, agree with each other, and end where they end?

NFPA 70-2017: Tables 310.15(B)(16), 310.15(B)(2)(a), 250.122, 250.66, Chapter 9 Tables 8 and 9.
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from contractor.units import Q
from panels.editions import EDITIONS, edition
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.wire import lookup
from panels.rules.wire.sizes import KNOWN, SIZES, Metal, Raceway, Size, size_of

ED = edition("2017")
ALL = [pytest.param(edition, id=key) for key, edition in EDITIONS.items()]
CU, AL = Metal.COPPER, Metal.ALUMINIUM

# Chapter 9 Table 9, effective impedance at power factor 0.85, typed by itself and compared with a
# second public copy of the table: copper in PVC, aluminum, steel; aluminum in the same.
EFFECTIVE = """
14 2.7 2.7 2.7 - - -
12 1.7 1.7 1.7 2.8 2.8 2.8
10 1.1 1.1 1.1 1.8 1.8 1.8
8 .69 .69 .70 1.1 1.1 1.1
6 .44 .45 .45 .71 .72 .72
4 .29 .29 .30 .46 .46 .46
3 .23 .24 .24 .37 .37 .37
2 .19 .19 .20 .30 .30 .30
1 .16 .16 .16 .24 .24 .25
1/0 .13 .13 .13 .19 .20 .20
2/0 .11 .11 .11 .16 .16 .16
3/0 .088 .092 .094 .13 .13 .14
4/0 .074 .078 .080 .11 .11 .11
250 .066 .070 .073 .094 .098 .10
300 .059 .063 .065 .082 .086 .088
350 .053 .058 .060 .073 .077 .080
400 .049 .053 .056 .066 .071 .073
500 .043 .048 .050 .057 .061 .064
600 .040 .044 .047 .051 .055 .058
"""
COLUMNS = [(metal, raceway) for metal in Metal for raceway in Raceway]
PRINTED = [
    (name, metal, raceway, Decimal(text))
    for name, *cells in (row.split() for row in EFFECTIVE.strip().splitlines())
    for (metal, raceway), text in zip(COLUMNS, cells, strict=True)
    if text != "-"
]


def unit(number: float | Decimal) -> float:
    """One in the last printed digit."""
    exponent = Decimal(str(number)).as_tuple().exponent
    assert isinstance(exponent, int)
    return float(10.0**exponent)


@pytest.mark.parametrize(("name", "metal", "raceway", "printed"), PRINTED)
def test_effective_impedance_comes_out_as_the_table_prints_it(
    name: str, metal: Metal, raceway: Raceway, printed: Decimal
) -> None:
    """R cos + X sin, within the rounding of what is printed: R, X and Ze have two digits each."""
    r, x = lookup.impedance(size_of(name), metal, raceway, ED)
    ours = r * 0.85 + x * math.sqrt(1 - 0.85**2)
    room = unit(printed) / 2 + 0.85 * _two_digits(r) / 2 + 0.527 * 0.0005
    assert abs(ours - float(printed)) <= room


def _two_digits(number: float) -> float:
    """One in the second digit of a number printed with two of them."""
    return 10.0 ** (math.floor(math.log10(number)) - 1)


def test_every_effective_impedance_was_compared() -> None:
    assert len(PRINTED) == 111
    assert len(ED.wire.falling.impedance.value.cells) == 111


@pytest.mark.parametrize("edition", ALL)
def test_a_larger_conductor_carries_more_and_resists_less(edition: Edition) -> None:
    for metal in Metal:
        sizes = [size for size in SIZES if size.name != "14" or metal is CU]
        for column in (60, 75, 90):
            amperes = [lookup.ampacity(size, metal, column, edition) for size in sizes]
            assert amperes == sorted(set(amperes))
        ohms = [lookup.resistance(size, metal, edition) for size in sizes]
        assert ohms == sorted(set(ohms), reverse=True)
        for raceway in Raceway:
            r = [lookup.impedance(size, metal, raceway, edition).r for size in sizes]
            assert r == sorted(r, reverse=True)


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_hotter_column_carries_more_and_aluminum_less(size: Size) -> None:
    copper = [lookup.ampacity(size, CU, column, ED) for column in (60, 75, 90)]
    assert copper == sorted(set(copper))
    if size.name != "14":
        assert lookup.ampacity(size, AL, 75, ED) < lookup.ampacity(size, CU, 75, ED)


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_resistance_is_that_of_the_metal(size: Size) -> None:
    """Chapter 9 Table 8: ohms x circular mils is nearly one number for a metal; K is that number,
    and a conductor of aluminum never has the K of copper."""
    falling = ED.wire.falling
    for metal in Metal:
        own = lookup.resistance(size, metal, ED) * size.circular_mils / 1000
        assert own == pytest.approx(falling.k.value[metal], rel=0.015)
    other = lookup.resistance(size, AL, ED) * size.circular_mils / 1000
    assert other > 1.6 * falling.k.value[CU]


@pytest.mark.parametrize("size", [size_of(name) for name in ("14", "12", "10", "8")], ids=str)
def test_a_solid_conductor_resists_less_than_a_stranded_one(size: Size) -> None:
    for metal in Metal:
        solid = lookup.resistance(size, metal, ED, solid=True)
        assert solid < lookup.resistance(size, metal, ED)


@pytest.mark.parametrize("raceway", list(Raceway))
def test_alternating_current_meets_no_less_resistance_than_direct(raceway: Raceway) -> None:
    """Table 9 against Table 8: skin effect adds, but for the rounding to two digits."""
    for (size, metal, where), (r, _) in ED.wire.falling.impedance.value.cells.items():
        if where is raceway:
            assert r >= lookup.resistance(size, metal, ED) - _two_digits(r) / 2


def test_resistance_at_another_temperature() -> None:
    """R2 = R1 [1 + a (T2 - 75)], a = 0.00323 for copper and 0.00330 for aluminum."""
    six = size_of("6")
    assert lookup.resistance(six, CU, ED, celsius=75) == 0.491
    assert lookup.resistance(six, CU, ED, celsius=25) == pytest.approx(0.491 * (1 - 0.1615))
    assert lookup.resistance(six, AL, ED, celsius=90) == pytest.approx(0.808 * 1.0495)


@pytest.mark.parametrize("column", [60, 75, 90])
def test_the_ambient_table_follows_the_formula(column: int) -> None:
    """I' = I sqrt((Tc - Ta') / (Tc - Ta)) at the middle or the end of each row, two digits."""
    for row in ED.wire.carrying.ambient.value.rows:
        if column not in row.value or row.last is None:
            continue
        first = 10 if row.first < 0 else row.first
        by_formula = [
            math.sqrt((column - celsius) / (column - 30)) for celsius in (first, row.last)
        ]
        assert min(by_formula) - 0.011 <= row.value[column] <= max(by_formula) + 0.011


@pytest.mark.parametrize(
    ("celsius", "column", "factor"),
    [(30, 90, 1.0), (30.4, 90, 0.96), (40, 90, 0.91), (10, 60, 1.29), (-40, 75, 1.20),
     (85, 90, 0.29)],
)  # fmt: skip
def test_an_ambient_between_two_degrees_takes_the_hotter_row(
    celsius: float, column: int, factor: float
) -> None:
    assert lookup.ambient_factor(celsius, column, ED) == factor


@pytest.mark.parametrize(
    ("count", "factor"), [(1, 1), (3, 1), (4, 0.8), (6, 0.8), (9, 0.7), (20, 0.5), (41, 0.35)]
)
def test_more_conductors_together_carry_less(count: int, factor: float) -> None:
    assert lookup.bundling_factor(count, ED) == factor


@pytest.mark.parametrize("edition", ALL)
def test_each_printed_dwelling_size_reaches_83_percent(edition: Edition) -> None:
    """Table 310.12(A), from memory: each size carries 83 % of its rating at 75 °C, and the next
    smaller one does not."""
    rated = edition.wire.dwelling.rated
    assert rated.mark.value == "M"
    assert len(rated.value) == 11
    for rating, sizes in rated.value.items():
        for metal, size in sizes.items():
            needs = 0.83 * rating
            smaller = max(each for each in SIZES if each < size)
            assert lookup.ampacity(size, metal, 75, edition).magnitude >= needs
            assert lookup.ampacity(smaller, metal, 75, edition).magnitude < needs


@pytest.mark.parametrize(
    ("amperes", "cu", "al"),
    [(15, "14", "12"), (20, "12", "10"), (30, "10", "8"), (40, "10", "8"), (50, "10", "8"),
     (60, "10", "8"), (100, "8", "6"), (101, "6", "4"), (200, "6", "4"), (400, "3", "1"),
     (1200, "3/0", "250"), (6000, "800", "1200")],
)  # fmt: skip
def test_the_equipment_grounding_conductor_by_its_device(amperes: int, cu: str, al: str) -> None:
    device = Q(float(amperes), "A")
    assert lookup.equipment_grounding(device, CU, ED).name == cu
    assert lookup.equipment_grounding(device, AL, ED).name == al


@pytest.mark.parametrize(
    ("service", "metal", "cu", "al"),
    [("2", CU, "8", "6"), ("1", CU, "6", "4"), ("1/0", CU, "6", "4"), ("2/0", CU, "4", "2"),
     ("4/0", CU, "2", "1/0"), ("350", CU, "2", "1/0"), ("400", CU, "1/0", "3/0"),
     ("1/0", AL, "8", "6"), ("2/0", AL, "6", "4"), ("4/0", AL, "4", "2"), ("250", AL, "4", "2"),
     ("300", AL, "2", "1/0"), ("600", AL, "1/0", "3/0")],
)  # fmt: skip
def test_the_electrode_conductor_by_the_service(
    service: str, metal: Metal, cu: str, al: str
) -> None:
    area = size_of(service).circular_mils
    assert lookup.electrode_conductor(area, metal, CU, ED).name == cu
    assert lookup.electrode_conductor(area, metal, AL, ED).name == al
    assert lookup.electrode_conductor(3e6, metal, CU, ED).name == "3/0"


def test_nothing_is_read_outside_a_table() -> None:
    fourteen, largest = size_of("14"), KNOWN["1200"]
    with pytest.raises(NotCovered, match=r"14 AWG aluminum at 75 °C \(Table 310.15\(B\)\(16\)\)"):
        lookup.ampacity(fourteen, AL, 75, ED)
    with pytest.raises(NotCovered, match="1200 kcmil"):
        lookup.ampacity(largest, CU, 75, ED)
    with pytest.raises(NotCovered, match="105 °C"):
        lookup.ampacity(fourteen, CU, 105, ED)
    with pytest.raises(NotCovered, match=r"Insulation of 60 °C is not for .* 56 °C"):
        lookup.ambient_factor(56, 60, ED)
    with pytest.raises(NotCovered, match="no row for 86"):
        lookup.ambient_factor(85.1, 90, ED)
    with pytest.raises(NotCovered):
        lookup.impedance(fourteen, AL, Raceway.PVC, ED)
    with pytest.raises(NotCovered):
        lookup.resistance(size_of("6"), CU, ED, solid=True)
    with pytest.raises(NotCovered, match="6,001 A is above"):
        lookup.equipment_grounding(Q(6001.0, "A"), CU, ED)


@pytest.mark.parametrize(
    ("key", "table", "dwelling"),
    [("2017", "Table 310.15(B)(16)", "310.15(B)(7)"), ("2020", "Table 310.16", "310.12"),
     ("2023", "Table 310.16", "310.12"), ("2026", "Table 310.16", "310.12")],
)  # fmt: skip
def test_each_edition_cites_its_own_numbers(key: str, table: str, dwelling: str) -> None:
    wire = EDITIONS[key].wire
    assert wire.carrying.ampacity.cite == table
    assert wire.dwelling.factor.cite == dwelling
