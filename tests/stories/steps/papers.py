"""Files that people send and papers that they get: lists, pictures, PDFs, mails."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from email.message import EmailMessage

import openpyxl
import pypdfium2
from django.core.files.base import ContentFile
from django.http import HttpResponse
from PIL import Image

from tests.stories.reading import read

GPS_IFD, ORIENTATION = 0x8825, 0x0112


def csv_list(name: str, rows: Iterable[Mapping[str, object]]) -> ContentFile:
    rows, kept = list(rows), io.StringIO()
    writer = csv.DictWriter(
        kept, fieldnames=list(dict.fromkeys(key for row in rows for key in row))
    )
    writer.writeheader()
    writer.writerows(rows)
    return ContentFile(kept.getvalue().encode(), name=name)


def xlsx_list(name: str, lines: Iterable[Iterable[object]]) -> ContentFile:
    book, kept = openpyxl.Workbook(), io.BytesIO()
    sheet = book.active
    for line in lines:
        sheet.append(list(line))
    book.save(kept)
    return ContentFile(kept.getvalue(), name=name)


def photo(name: str = "IMG_0042.jpg") -> ContentFile:
    """As a phone takes it: lying on its side, and telling where it was taken."""
    image, kept = Image.new("RGB", (640, 480), "teal"), io.BytesIO()
    image.paste("orange", (0, 0, 320, 480))
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # a quarter turn clockwise makes it upright
    place = exif.get_ifd(GPS_IFD)
    place[1], place[2], place[3], place[4] = "N", (40.0, 3.0, 0.0), "W", (82.0, 57.0, 0.0)
    image.save(kept, "JPEG", exif=exif)
    return ContentFile(kept.getvalue(), name=name)


def picture(answer: HttpResponse) -> Image.Image:
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    return Image.open(io.BytesIO(content))


def pdf_pages(answer: HttpResponse) -> list[str]:
    """What each page of a PDF says, in one line with single blanks."""
    assert answer["Content-Type"] == "application/pdf"
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    document = pypdfium2.PdfDocument(content)
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def plain(mail: EmailMessage) -> str:
    part = mail.get_body(("plain",))
    assert part is not None
    return part.get_content()


def mail_links(mail: EmailMessage) -> dict[str, str]:
    """The links of the mail's page, by their words."""
    part = mail.get_body(("html",))
    assert part is not None
    found = read(part.get_content()).iter("a")
    return {" ".join("".join(one.itertext()).split()): one.get("href", "") for one in found}
