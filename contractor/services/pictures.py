"""Where do pictures stand? One file per picture, named by its contents, outside the web's reach."""

from __future__ import annotations

import errno
import os
import re
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.base import File
from django.utils.translation import gettext as _

from contractor import pictures
from contractor.errors import Invalid, Refused

NAME = re.compile(r"^[0-9a-f]{64}$")


class NoRoom(Refused):
    """The disk is full (RFC 4918, 11.5): the phone keeps the picture and tries again."""

    status = 507


@dataclass(frozen=True)
class Picture:
    sha256: str
    width: int
    height: int
    bytes: int


def store_picture(upload: File[Any]) -> Picture:
    """Check, re-encode and keep one upload; the same picture twice is kept once.

    Raises Invalid (too large, not a picture) and NoRoom. The caller writes the row: a file
    without a row is harmless, a row without a file is not.
    """
    content = _read(upload)
    encoded = pictures.encode(content, max_pixels=settings.PHOTO_MAX_PIXELS)
    try:
        _keep(path_of(encoded.sha256, small=True), encoded.small)
        _keep(path_of(encoded.sha256), encoded.content)
    except OSError as error:
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        raise NoRoom(
            "disk_full", _("There is no room left for pictures. Keep it and tell the office.")
        ) from error
    return Picture(encoded.sha256, encoded.width, encoded.height, len(encoded.content))


def path_of(sha256: str, *, small: bool = False) -> Path:
    """The file of a picture. Raises ValueError for anything but a name we made."""
    if not NAME.match(sha256):
        raise ValueError(sha256)
    name = f"{sha256}-small.jpg" if small else f"{sha256}.jpg"
    return Path(settings.MEDIA_ROOT) / sha256[:2] / sha256[2:4] / name


def _read(upload: File[Any]) -> bytes:
    """All of it, but never more than the limit; the size a client states is not believed."""
    limit = settings.PHOTO_MAX_BYTES
    content = b"" if (upload.size or 0) > limit else upload.read(limit + 1)
    if not content or len(content) > limit:
        raise Invalid(
            "picture_too_large" if upload.size else "picture_empty",
            _("A picture may have up to %(n)d MB. Take it at a lower resolution.")
            % {"n": limit // 1024 // 1024}
            if upload.size
            else _("The picture arrived empty. Send it again."),
        )
    return bytes(content)


def _keep(path: Path, content: bytes) -> None:
    """Written whole or not at all, even when the power goes."""
    if path.exists():
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, unfinished = tempfile.mkstemp(dir=path.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(unfinished, path)
    except BaseException:
        Path(unfinished).unlink(missing_ok=True)
        raise
