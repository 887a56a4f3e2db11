"""How is a sheet of paper made from plain data?"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import json
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

import segno
import typst

ROOT = Path(__file__).resolve().parent.parent.parent
FONTS = Path(__file__).resolve().parent / "fonts"
READABLE_BY_ALL: Literal["ua-1"] = "ua-1"  # tagged, titled, described: PDF/UA-1 (ISO 14289-1)


@lru_cache(maxsize=1)
def _fonts() -> typst.Fonts:
    """The firm's face; the fonts inside typst stand in for letters it lacks."""
    return typst.Fonts(include_system_fonts=False, font_paths=[FONTS])


@lru_cache(maxsize=32)
def edition_of(*templates: Path) -> str:
    """A fingerprint of the templates, so that a kept sheet is never older than its look."""
    shared = sorted(Path(__file__).resolve().parent.glob("*.typ"))
    read = b"".join(one.read_bytes() for one in [*shared, *templates])
    return hashlib.sha256(read).hexdigest()[:16]


def pdf(template: Path, data: Mapping[str, Any], *, made_at: dt.datetime) -> bytes:
    """The sheet as PDF/UA-1. `made_at` is the document's date, so equal data give equal bytes.

    Data go in as JSON: text typed by people is text on the paper and never a command. A letter
    no font has costs the PDF/UA mark, not the sheet.
    """
    try:
        return _pdf(template, data, made_at, READABLE_BY_ALL)
    except typst.TypstError as error:
        if "could not be displayed" not in error.message:
            raise
        return _pdf(template, data, made_at, None)


def picture(template: Path, data: Mapping[str, Any]) -> bytes:
    """The first page as SVG, for the screen."""
    made = typst.compile(
        template, root=ROOT, font_paths=_fonts(), format="svg", sys_inputs=_inputs(data)
    )
    return made[0] if isinstance(made, list) else made


def _pdf(
    template: Path, data: Mapping[str, Any], made_at: dt.datetime, standard: Literal["ua-1"] | None
) -> bytes:
    return typst.compile(
        template,
        root=ROOT,
        font_paths=_fonts(),
        format="pdf",
        pdf_standards=[standard] if standard else [],
        sys_inputs=_inputs(data),
        timestamp=int(made_at.timestamp()),
    )


def _inputs(data: Mapping[str, Any]) -> dict[str, str]:
    return {"data": json.dumps(_printable(data), ensure_ascii=False)}


def _printable(value: Any) -> Any:
    """Without control characters, which no font shows and PDF/UA refuses."""
    if isinstance(value, str):
        return "".join(
            letter if letter == "\n" or unicodedata.category(letter)[0] != "C" else " "
            for letter in value
        )
    if isinstance(value, Mapping):
        return {key: _printable(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(one) for one in value]
    return value


def qr(address: str) -> str:
    """The address as a QR code in SVG, medium error correction, with its quiet zone of four."""
    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(
        drawn, kind="svg", xmldecl=False, border=4, unit="", omitsize=True
    )
    return drawn.getvalue().decode()
