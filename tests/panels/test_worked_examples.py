"""Is a mistake in an example's file named, and a wrong answer seen?"""

from __future__ import annotations

from pathlib import Path

import pytest

from panels.rules.errors import BadDescription, UnknownEdition
from panels.starters import starter
from panels.worked_examples import Example, read_file, work

STARTER = starter("voltage_drop")
GOOD = """
title = "A dwelling"
source = "worked by hand"
mark = "C"
edition = "2017"
method = "standard"

[dwelling]
floor_area = "1500 ft2"
small_appliance_circuits = 2
laundry_circuits = 1

[[answers]]
line = "load"
value = "5100 VA"
"""


def read(tmp_path: Path, text: str) -> Example:
    path = tmp_path / "example.toml"
    path.write_text(text, encoding="utf-8")
    return read_file(path)


@pytest.mark.parametrize(
    ("printed", "fits"),
    [
        ("5100 VA", True),
        ("5.1 kVA", True),
        ("5.10 kVA", True),
        ("5.15 kVA", False),
        ("5,100 VA", True),
        ("5100VA", True),
        ("5100.0VA", True),
        ("5.1kVA", True),
        ("5101 VA", False),
        ("5099.6 VA", False),
        ("5.1 kW", True),
        ("5,100 W", True),
        ("5,200 W", False),
    ],
)
def test_an_answer_fits_to_half_its_last_printed_digit(
    tmp_path: Path, printed: str, fits: bool
) -> None:
    _, [comparison] = work(read(tmp_path, GOOD.replace("5100 VA", printed)))
    assert comparison.fits is fits


def test_an_answer_may_be_given_its_own_room(tmp_path: Path) -> None:
    text = GOOD.replace('"5100 VA"', '"5104 VA"\nwithin = 5')
    _, [comparison] = work(read(tmp_path, text))
    assert comparison.fits
    assert comparison.difference == -4


def test_an_answer_may_be_below_zero(tmp_path: Path) -> None:
    text = GOOD.replace("[[answers]]", 'service = { rating = "20 A" }\n\n[[answers]]', 1)
    text = text.replace('"load"', '"left"').replace('"5100 VA"', '"-1.25 A"')
    _, [comparison] = work(read(tmp_path, text))
    assert comparison.fits


def test_a_count_has_to_be_exact(tmp_path: Path) -> None:
    lines = '\n[[answers]]\nline = "circuits_15"\nvalue = {}\n'
    for value, fits in ((3, True), (2, False), ('"3"', True), ('"2"', False)):
        _, comparisons = work(read(tmp_path, GOOD + lines.format(value)))
        assert comparisons[1].fits is fits


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("[dwelling]", "[dweling]", "Describe one of"),
        ('"1500 ft2"', '"1500 ft"', r"dwelling.floor_area: 1,500 ft is not an area"),
        ('mark = "C"', 'mark = "sure"', "mark: 'sure' is not one of V17"),
        ('method = "standard"', 'method = "usual"', "method: 'usual' is not one of standard"),
        ('edition = "2017"', "", "edition: is missing"),
        ('line = "load"', 'line = "lod"', "no line 'lod'; there are lighting"),
        ('value = "5100 VA"', 'value = "21 A"', "ours is 5,100 VA, printed 21 A"),
        ('value = "5100 VA"', "value = 5100", "ours is 5,100 VA, printed 5,100"),
        ('value = "5100 VA"', "", r"answers\[1\].value: is missing"),
        ("[[answers]]", "[[answer]]", "answers: is missing"),
        ('title = "A dwelling"', "title = A dwelling", "is not a TOML file"),
        ('source = "worked by hand"', 'source = "x"\nauthor = "y"', "author: is not a field here"),
    ],
)
def test_a_mistake_in_the_file_is_named(tmp_path: Path, old: str, new: str, says: str) -> None:
    assert old in GOOD
    with pytest.raises(BadDescription, match=says):
        work(read(tmp_path, GOOD.replace(old, new)))


def test_an_unknown_edition_is_named(tmp_path: Path) -> None:
    with pytest.raises(UnknownEdition, match="Choose one of 2017"):
        read(tmp_path, GOOD.replace('"2017"', '"2014"'))


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(BadDescription, match=r"nowhere.toml: cannot be read"):
        read_file(tmp_path / "nowhere.toml")
    with pytest.raises(BadDescription, match="cannot be read"):
        read_file(tmp_path)


def test_bytes_that_are_no_text_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "example.toml"
    path.write_bytes(b"\xff\xfe\x00t")
    with pytest.raises(BadDescription, match="is not a TOML file"):
        read_file(path)


def test_title_source_and_mark_may_be_left_out(tmp_path: Path) -> None:
    text = GOOD.replace('title = "A dwelling"', "").replace('mark = "C"', "")
    example = read(tmp_path, text.replace('source = "worked by hand"', ""))
    assert (example.title, example.source) == ("Standard method", "not stated")


def test_a_percentage_may_be_printed_with_its_sign(tmp_path: Path) -> None:
    text = STARTER.text.split("[[answers]]", maxsplit=1)[0]
    for printed, fits in (("1.6 %", True), ("1.7 %", False), ("1.60", True)):
        answer = f'[[answers]]\nline = "drop_percent"\nvalue = "{printed}"\n'
        _, [comparison] = work(read(tmp_path, text + answer))
        assert comparison.fits is fits, comparison


@pytest.mark.parametrize(
    ("printed", "fits"),
    [
        ("2/0 AWG", True),
        ("#2/0 AWG copper", True),
        ("2/0 AWG Copper", True),
        ("2/0 AWG aluminum", False),
        ("1/0 AWG", False),
    ],
)
def test_the_metal_of_a_printed_size_may_be_left_out(
    tmp_path: Path, printed: str, fits: bool
) -> None:
    text = (
        'edition = 2023\nmethod = "conductor"\n[inputs]\ndevice = "200 A"\nmetal = "copper"\n'
        f'whole_dwelling = true\n[[answers]]\nline = "conductor"\nvalue = "{printed}"\n'
    )
    _, [comparison] = work(read(tmp_path, text))
    assert comparison.fits is fits
