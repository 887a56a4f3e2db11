"""What arrives as a picture is kept as one, and nothing else is."""

from __future__ import annotations

import errno
import io
import os
import resource
import struct
import zlib

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from contractor import pictures
from contractor.errors import Invalid
from contractor.services.pictures import NoRoom, path_of, store_picture

MOST = 60_000_000
ORIENTATION, GPS = 0x0112, 0x8825


@pytest.fixture(autouse=True)
def _folder(settings, tmp_path) -> None:
    settings.MEDIA_ROOT = tmp_path


def drawn(kind: str, size: tuple[int, int] = (40, 30), mode: str = "RGB", **extra: object) -> bytes:
    file = io.BytesIO()
    Image.new(mode, size, "orange" if mode in ("RGB", "RGBA") else 1).save(file, kind, **extra)
    return file.getvalue()


def png_that_claims(width: int, height: int) -> bytes:
    """A header for a huge picture and next to no contents."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        checked = kind + data
        return struct.pack(">I", len(data)) + checked + struct.pack(">I", zlib.crc32(checked))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) * 2


def kept(content: bytes) -> Image.Image:
    encoded = pictures.encode(content, max_pixels=MOST)
    picture = Image.open(io.BytesIO(encoded.content))
    assert picture.format == "JPEG"
    assert picture.size == (encoded.width, encoded.height)
    return picture


@pytest.mark.parametrize(
    ("kind", "mode"),
    [("JPEG", "RGB"), ("JPEG", "L"), ("JPEG", "CMYK"), ("PNG", "RGBA"), ("PNG", "P"),
     ("PNG", "1"), ("PNG", "I;16"), ("WEBP", "RGB"), ("WEBP", "RGBA")],
)  # fmt: skip
def test_the_usual_kinds_are_kept_as_jpeg(kind: str, mode: str) -> None:
    assert kept(drawn(kind, mode=mode)).size == (40, 30)


def test_what_is_transparent_becomes_paper() -> None:
    file = io.BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(file, "PNG")
    assert kept(file.getvalue()).getpixel((4, 4)) == (255, 255, 255)


def test_metadata_goes_and_the_orientation_is_applied() -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera was held upright
    exif[GPS] = {1: "N", 2: (40.0, 3.0, 0.0)}
    content = drawn("JPEG", (40, 30), exif=exif.tobytes())
    assert b"Exif" in content
    picture = kept(content)
    assert picture.size == (30, 40)
    assert not picture.getexif()
    assert not {"exif", "icc_profile", "comment", "xmp"} & set(picture.info)


def test_a_large_picture_is_kept_smaller_and_a_small_copy_beside_it() -> None:
    encoded = pictures.encode(drawn("JPEG", (6400, 1600)), max_pixels=MOST)
    assert (encoded.width, encoded.height) == (3200, 800)
    assert Image.open(io.BytesIO(encoded.small)).size == (480, 120)


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>", "picture_unreadable"),
        (b"<html><script>1</script>", "picture_unreadable"),
        (b"%PDF-1.7", "picture_unreadable"),
        (drawn("GIF", mode="P"), "picture_unreadable"),
        (drawn("TIFF"), "picture_unreadable"),
        (drawn("BMP"), "picture_unreadable"),
        (drawn("JPEG")[:200], "picture_unreadable"),
        (drawn("PNG")[:60], "picture_unreadable"),
        (b"\0\0\0\x18ftypheic" + b"\0" * 50, "picture_kind"),
        (png_that_claims(50_000, 50_000), "picture_too_many_pixels"),
        (png_that_claims(12_000, 12_000), "picture_too_many_pixels"),
    ],
)
def test_nothing_else_is_taken(content: bytes, code: str) -> None:
    with pytest.raises(Invalid) as refused:
        pictures.encode(content, max_pixels=MOST)
    assert refused.value.code == code


def test_a_page_hidden_behind_a_picture_is_gone() -> None:
    content = drawn("JPEG") + b"<script>alert(1)</script>"
    encoded = pictures.encode(content, max_pixels=MOST)
    assert b"<script>" not in encoded.content + encoded.small


def test_the_largest_picture_allowed_is_decoded_in_bounded_memory() -> None:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    pictures.encode(drawn("JPEG", (9000, 6600), mode="L"), max_pixels=MOST)
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    assert grown < 300 * 1024  # in kB


def test_the_same_picture_is_kept_once_under_a_name_of_ours(tmp_path) -> None:
    upload = SimpleUploadedFile("../../etc/x.php", drawn("PNG"))
    first = store_picture(upload)
    upload.seek(0)
    second = store_picture(upload)
    assert first == second
    files = sorted(path.relative_to(tmp_path) for path in tmp_path.rglob("*") if path.is_file())
    assert [path.name for path in files] == [f"{first.sha256}-small.jpg", f"{first.sha256}.jpg"]
    assert path_of(first.sha256).stat().st_size == first.bytes


def test_too_large_and_empty_are_refused_before_reading(settings) -> None:
    settings.PHOTO_MAX_BYTES = 100
    with pytest.raises(Invalid, match="may have up to"):
        store_picture(SimpleUploadedFile("a.png", b"x" * 101))
    with pytest.raises(Invalid, match="empty"):
        store_picture(SimpleUploadedFile("a.png", b""))
    lies = SimpleUploadedFile("a.png", b"x" * 101)
    lies.size = 5
    with pytest.raises(Invalid, match="may have up to"):
        store_picture(lies)


@pytest.mark.parametrize("name", ["../secret", "a" * 63, "A" * 64, "0" * 64 + "/.."])
def test_only_names_we_made_lead_to_files(name: str) -> None:
    with pytest.raises(ValueError, match=name[:3].replace(".", r"\.")):
        path_of(name)


def test_a_full_disk_is_said_so_and_leaves_nothing_half_written(monkeypatch, tmp_path) -> None:
    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(NoRoom) as refused:
        store_picture(SimpleUploadedFile("a.png", drawn("PNG")))
    assert refused.value.status == 507
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]
