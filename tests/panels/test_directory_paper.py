"""The printed directory, read back from the PDF: nothing missing, nothing out of order."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

import pypdfium2
import pytest

from panels.directory import paper, schedule, words
from panels.directory.paper import Issue, Sheet
from tests.panels import reading
from tests.panels.directories import a_breaker, a_directory, a_full_main, a_shop, a_sub

AT = dt.datetime(2026, 11, 25, 14, 30, 5, 123456, tzinfo=dt.UTC)
ADDRESS = "https://panels.tallowcreek.example/home/6f1f2b7e9cde4b7ca2f5a4a3e7b0d9aa.Zk3GQf0n6/"
ISSUES = (
    Issue(number="3", date="Nov. 25, 2026", by="Dana Whitlock", change="spaces 12, 14"),
    Issue(number="2", date="Sept. 2, 2026", by="Lee Arden", change="supply"),
)
DIRECTORIES = {"42": a_full_main(), "24": a_sub(), "84": a_shop()}


def a_sheet(directory, **said):
    return Sheet(directory=directory, **({"issues": ISSUES, "address": ADDRESS} | said))


def letter(directory, **said):
    return paper.letter([a_sheet(directory, **said)], made_at=AT)


def card(directory, **said):
    return paper.card(a_sheet(directory, **said), made_at=AT)


@pytest.mark.parametrize("kind", [letter, card])
@pytest.mark.parametrize("spaces", DIRECTORIES)
def test_every_name_rating_and_protection_is_printed_on_one_sheet(kind, spaces):
    directory = DIRECTORIES[spaces]
    pdf = kind(directory)
    said = reading.text(pdf)
    assert len(pypdfium2.PdfDocument(pdf)) == 1
    for circuit in directory.circuits:
        assert words.circuit_name(circuit) in said
    empty = sum(part.item is None for _side, part in schedule.parts(directory))
    assert len(re.findall(r"\bspace\b", said.partition("CAUTION")[0])) == empty
    for text in (
        directory.identity.name,
        words.supplied(directory.supply),
        directory.identity.site,
        "Tallow Creek Electric",
        "Contractor licence EL-40871",
        "(614) 555-0100",
        "Nov. 25, 2026",
        "Dana Whitlock",
        *words.cautions(directory),
    ):
        assert text in said


@pytest.mark.parametrize("kind", [letter, card])
@pytest.mark.parametrize("spaces", DIRECTORIES)
def test_the_rows_stand_in_the_order_of_the_backplate(kind, spaces):
    directory = DIRECTORIES[spaces]
    printed = reading.words(kind(directory))
    heads = [word for word in printed if word.text == "NO."]
    middle = sum(word.left for word in heads) / 2
    for column in ("left", "right"):
        height = heads[0].height
        for row in schedule.rows(directory):
            side = getattr(row, column)
            if side is None:
                continue
            name = words.circuit_name(side.parts[0].item)
            below = [
                word.height
                for word in printed
                if (name in word.text or name.startswith(word.text))
                and len(word.text) > 3
                and (word.left < middle) == (column == "left")
                and word.height < height - 1
            ]
            assert below, f"{name} is not printed below the row before it"
            height = max(below)


@pytest.mark.parametrize("kind", [letter, card])
def test_rating_poles_and_protection_stand_in_the_row_of_their_breaker(kind):
    rows = {
        "Range": (1, 50, 2, ""),
        "Bath": (2, 20, 1, "gfci"),
        "Den": (4, 15, 1, "afci"),
        "Dryer": (5, 30, 2, ""),
        "Sink": (6, 25, 1, "dual"),
    }
    breakers = [
        a_breaker(space, name, rating_a=amps, poles=poles, protection=guard)
        for name, (space, amps, poles, guard) in rows.items()
    ]
    printed = reading.words(kind(a_directory(*breakers, spaces=8)))
    middle = sum(word.left for word in printed if word.text == "NO.") / 2
    for name, (space, amps, poles, guard) in rows.items():
        at = next(word for word in printed if word.text == name)
        side = [word for word in printed if (word.left < middle) == (at.left < middle)]
        beside = {word.text for word in side if abs(word.height - at.height) < 9}
        assert str(amps) in beside
        assert ("2P" in beside) == (poles == 2)
        if poles == 1:
            assert str(space) in beside
        if guard:
            assert words.PROTECTION[guard] in beside


def test_the_revision_block_names_each_issue():
    said = reading.text(letter(a_sub()))
    assert "3 Nov. 25, 2026 Dana Whitlock spaces 12, 14" in said
    assert "2 Sept. 2, 2026 Lee Arden supply" in said


def test_sources_and_their_disconnects_are_printed():
    said = reading.text(card(a_full_main()))
    assert "Roof array: Outside, beside the meter" in said


@pytest.mark.parametrize("kind", [letter, card])
def test_the_code_leads_to_the_live_page(kind):
    pdf = kind(a_full_main())
    assert reading.shows_code(pdf, ADDRESS)
    assert not reading.shows_code(pdf, ADDRESS[:-2] + "1/")


def test_without_a_live_page_the_sheet_says_so():
    said = reading.text(letter(a_sub(), address=""))
    assert "No live page" in said
    assert "Scan for" not in said


@pytest.mark.parametrize("kind", [letter, card])
@pytest.mark.parametrize("spaces", DIRECTORIES)
def test_nothing_is_set_smaller_than_can_be_read_at_a_panel(kind, spaces):
    assert reading.smallest_type(kind(DIRECTORIES[spaces])) >= 7.5


@pytest.mark.parametrize("kind", [letter, card])
def test_the_longest_names_go_on_as_many_sheets_as_they_need(kind):
    names = [f"Circuit {space} {'and what hangs on it ' * 4}"[:80] for space in range(1, 85)]
    directory = replace(
        a_shop(),
        circuits=tuple(
            a_breaker(space, name.strip(), half=half, protection="dual", backed_up=True)
            for space, name in enumerate(names, 1)
            for half in "ab"
        ),
    )
    pdf = kind(directory)
    said = reading.text(pdf)
    for name in names:
        assert said.count(name.strip()) == 2
    sheets = len(pypdfium2.PdfDocument(pdf))
    assert f"Sheet {sheets} of {sheets}" in said
    assert reading.smallest_type(pdf) >= 7.5


def test_what_people_type_is_text_and_never_a_command():
    name = '#panic("no") *b* $x$ [a](b) \\ <lab> @ref // x'
    assert name in reading.text(letter(a_directory(a_breaker(1, name), spaces=4)))


def test_control_characters_and_letters_no_font_has_do_not_stop_the_printer():
    said = reading.text(letter(a_directory(a_breaker(1, "Bell\x07 漢 ⚡ Küche"), spaces=4)))
    assert "Bell" in said
    assert "Küche" in said


@pytest.mark.parametrize("kind", [letter, card])
def test_the_sheet_is_tagged_titled_and_says_it_is_for_all(kind):
    pdf = kind(a_sub())
    assert b"pdfuaid:part" in pdf  # PDF/UA-1, ISO 14289-1, 5
    document = pypdfium2.PdfDocument(pdf)
    assert document.is_tagged()
    assert document.get_metadata_dict()["Title"] == (
        "Panel directory: Workshop panel, 114 Weir Street, Harrow Mills, OH 43099"
    )


def test_equal_content_gives_equal_bytes():
    assert letter(a_sub()) == letter(a_sub())


def test_a_preview_is_marked_and_has_no_number():
    svg = paper.picture(a_sheet(a_sub(), draft=True))
    assert svg.startswith(b"<svg")
    said = reading.text(paper.letter([a_sheet(a_sub(), draft=True)], made_at=AT))
    assert "PREVIEW, NOT ISSUED" in said


def test_one_page_for_each_panel_of_a_home():
    sheets = [a_sheet(a_full_main()), a_sheet(a_sub())]
    document = pypdfium2.PdfDocument(paper.letter(sheets, made_at=AT))
    assert len(document) == 2
    assert "Workshop panel" in document[1].get_textpage().get_text_range()


@pytest.mark.parametrize("numbering", ["across", "down", "single"])
def test_every_numbering_prints(numbering):
    directory = a_directory(
        *(a_breaker(space, f"Outlet number {space}.") for space in range(1, 13)),
        numbering=numbering,
        spaces=12,
    )
    said = reading.text(card(directory))
    assert all(f"Outlet number {space}." in said for space in range(1, 13))


def test_a_preview_without_a_code_says_when_it_comes():
    said = reading.text(paper.letter([a_sheet(a_sub(), draft=True, address="")], made_at=AT))
    assert "The code comes with the issue." in said
