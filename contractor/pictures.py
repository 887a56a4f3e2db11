"""Is this upload a picture we can keep, and what exactly is kept of it?"""

from __future__ import annotations

import hashlib
import io
from dataclasses import dataclass

from django.utils.translation import gettext as _
from PIL import Image, ImageOps

from contractor.errors import Invalid

FORMATS = ("JPEG", "PNG", "WEBP")
LONGEST_SIDE = 3200  # the print on a breaker stays legible
SMALL_SIDE = 480  # enough for a list on a phone
QUALITY = 85


@dataclass(frozen=True)
class Encoded:
    """A picture as it is kept: JPEG, upright, without metadata; named by its contents."""

    sha256: str
    width: int
    height: int
    content: bytes
    small: bytes


def encode(content: bytes, *, max_pixels: int) -> Encoded:
    """Decode one picture and write it anew, so that nothing but the picture survives.

    The kind is told by the contents, never by the name. The number of pixels is read from the
    header and refused before anything is decoded (OWASP ASVS 5.0.0, 5.2.3 and 5.2.6);
    metadata such as the place it was taken goes (14.2.8), its orientation is applied first.
    Raises Invalid.
    """
    picture = _upright(content, max_pixels)
    full = _jpeg(picture)
    picture.thumbnail((SMALL_SIDE, SMALL_SIDE))
    width, height = Image.open(io.BytesIO(full)).size
    return Encoded(hashlib.sha256(full).hexdigest(), width, height, full, _jpeg(picture))


def _upright(content: bytes, max_pixels: int) -> Image.Image:
    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as picture:
            if picture.width * picture.height > max_pixels:
                raise _too_many(max_pixels)
            picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))  # decodes a large JPEG at a fraction
            return _flat(ImageOps.exif_transpose(picture))
    except Invalid:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_many(max_pixels) from error
    except Exception as error:  # a decoder given hostile bytes may raise anything
        raise _unreadable(content) from error


def _flat(picture: Image.Image) -> Image.Image:
    """The picture in three colours; what is transparent becomes paper."""
    if picture.has_transparency_data:
        seen = picture.convert("RGBA")
        paper = Image.new("RGB", seen.size, "white")
        paper.paste(seen, mask=seen.getchannel("A"))
        return paper
    return picture.convert("RGB")


def _jpeg(picture: Image.Image) -> bytes:
    written = io.BytesIO()
    picture.save(written, "JPEG", quality=QUALITY, optimize=True, exif=b"", icc_profile=None)
    return written.getvalue()


def _too_many(max_pixels: int) -> Invalid:
    return Invalid(
        "picture_too_many_pixels",
        _("This picture has more than %(n)d million pixels. Take it at a lower resolution.")
        % {"n": max_pixels // 1_000_000},
    )


def _unreadable(content: bytes) -> Invalid:
    if content[4:8] == b"ftyp":  # ISO 14496-12: HEIC and its relatives begin so
        return Invalid(
            "picture_kind",
            _(
                "This picture is in a format we cannot read (HEIC). Set the camera to “most "
                "compatible”, or send it as JPEG."
            ),
        )
    return Invalid(
        "picture_unreadable", _("This is not a picture we can read. Use JPEG, PNG or WebP.")
    )
