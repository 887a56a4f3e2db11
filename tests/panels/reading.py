"""Read a printed sheet back: which words stand where, how large, and what the code says."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium
import segno
from PIL import Image


@dataclass(frozen=True)
class Word:
    """A run of text with the left edge and the middle height of its box, in points."""

    page: int
    left: float
    height: float
    text: str


def words(pdf: bytes) -> list[Word]:
    """Every run of text, page by page, in the order of the file."""
    found = []
    for number, page in enumerate(_pages(pdf)):
        text = page.get_textpage()
        for index in range(text.count_rects()):
            left, bottom, right, top = text.get_rect(index)
            said = text.get_text_bounded(left, bottom, right, top).strip()
            if said:
                found.append(Word(number, left, (bottom + top) / 2, said))
    return found


def text(pdf: bytes) -> str:
    """All words, one space between, so that a wrapped name is found again."""
    pages = (page.get_textpage().get_text_range() for page in _pages(pdf))
    return " ".join(" ".join(pages).split())


def smallest_type(pdf: bytes) -> float:
    """The smallest type on the sheet, in points."""
    sizes = []
    for page in _pages(pdf):
        on_page = page.get_textpage()
        for index in range(on_page.count_chars()):
            letter = on_page.get_text_range(index, 1)
            if letter.strip():
                sizes.append(_size(on_page, index))
    return min(sizes)


def _size(on_page: pypdfium2.PdfTextPage, index: int) -> float:
    matrix = pdfium.FS_MATRIX()
    assert pdfium.FPDFText_GetMatrix(on_page.raw, index, ctypes.byref(matrix))
    return round(pdfium.FPDFText_GetFontSize(on_page.raw, index) * abs(matrix.d), 2)


def shows_code(pdf: bytes, address: str, *, scale: float = 8) -> bool:
    """True when the first page shows the QR code of this address.

    The code is the only large square drawn on a sheet; it is rendered and compared module by
    module with the matrix the address has.
    """
    expected = [list(map(bool, row)) for row in segno.make(address, error="m", micro=False).matrix]
    page = _pages(pdf)[0]
    image = page.render(scale=scale).to_pil().convert("L")
    for left, bottom, right, top in _squares(page):
        box = (left, page.get_height() - top, right, page.get_height() - bottom)
        square = image.crop([round(edge * scale) for edge in box])
        if _modules(square, len(expected)) == expected:
            return True
    return False


def _squares(page: pypdfium2.PdfPage) -> list[tuple[float, float, float, float]]:
    bounds = [one.get_bounds() for one in page.get_objects()]
    return [
        (left, bottom, right, top)
        for left, bottom, right, top in bounds
        if right - left > 40 and abs((right - left) - (top - bottom)) < 3
    ]


def _modules(square: Image.Image, count: int) -> list[list[bool]]:
    """The middle of each module, dark or not; the ink itself gives the edges."""
    dark = square.point(lambda shade: 255 if shade < 128 else 0)
    dark = dark.crop(dark.getbbox())
    pixels, step_x, step_y = dark.load(), dark.width / count, dark.height / count
    return [
        [bool(pixels[int((x + 0.5) * step_x), int((y + 0.5) * step_y)]) for x in range(count)]
        for y in range(count)
    ]


def _pages(pdf: bytes) -> list[pypdfium2.PdfPage]:
    document = pypdfium2.PdfDocument(pdf)
    return [document[number] for number in range(len(document))]
