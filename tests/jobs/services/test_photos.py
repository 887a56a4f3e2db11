"""A photo is kept once, upright and without where it was taken; refused in words otherwise."""

import io
import threading
import uuid
import zlib

import pytest
from django.core.files.base import ContentFile
from django.db import connection
from PIL import Image

from contractor.errors import Invalid, Refused, Stale
from contractor.services.pictures import path_of
from jobs.models import Photo, Visit
from jobs.planning.words import CloseOutKind
from jobs.services import photos
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.factories.panels import a_panel

pytestmark = pytest.mark.django_db
NOW = make.at(9)


@pytest.fixture(autouse=True)
def _folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def visit() -> Visit:
    make.firm()
    return make_field.under_way(of="Service change")


def add(visit, upload=None, **said):
    by = said.pop("by", None) or make_field.worker(visit)
    return photos.add_photo(
        visit=visit, upload=upload or make_field.picture(), by=by, now=NOW, **said
    )


def with_gps_on_its_side() -> ContentFile:
    """Left half red, right half blue, marked as to be turned a quarter, taken somewhere."""
    picture = Image.new("RGB", (80, 40), "red")
    picture.paste("blue", (40, 0, 80, 40))
    exif = Image.Exif()
    exif[0x0112] = 6  # turn a quarter clockwise to see it upright
    exif[0x010F] = "a maker"
    exif.get_ifd(0x8825).update({1: "N", 2: (40.0, 3.0, 0.0), 3: "W", 4: (82.0, 57.0, 0.0)})
    return make_field.picture_of(picture, exif=exif)


def test_where_it_was_taken_goes_and_it_stands_upright(visit):
    photo = add(visit, with_gps_on_its_side())
    kept = Image.open(path_of(photo.sha256))
    assert (photo.width, photo.height) == kept.size == (40, 80)
    assert dict(kept.getexif()) == {}
    assert b"Exif" not in path_of(photo.sha256).read_bytes()
    top, bottom = kept.getpixel((20, 5)), kept.getpixel((20, 75))
    assert top[0] > 200 > 100 > top[2]
    assert bottom[2] > 200 > 100 > bottom[0]


def bomb() -> ContentFile:
    """A PNG of some hundred bytes whose header promises seventy million pixels."""

    def chunk(name: bytes, body: bytes) -> bytes:
        summed = zlib.crc32(name + body).to_bytes(4, "big")
        return len(body).to_bytes(4, "big") + name + body + summed

    size = (8400).to_bytes(4, "big") * 2
    parts = chunk(b"IHDR", size + b"\x08\x02\x00\x00\x00") + chunk(b"IDAT", zlib.compress(b"\0"))
    return ContentFile(b"\x89PNG\r\n\x1a\n" + parts + chunk(b"IEND", b""), name="small.png")


@pytest.mark.parametrize(
    ("upload", "code"),
    [
        (bomb, "picture_too_many_pixels"),
        (lambda: ContentFile(b"%PDF-1.7 not a picture", name="photo.jpg"), "picture_unreadable"),
        (lambda: ContentFile(b"", name="photo.jpg"), "picture_empty"),
    ],
)
def test_what_is_no_usable_picture_is_refused_and_nothing_is_written(visit, upload, code):
    with pytest.raises(Invalid) as refused:
        add(visit, upload())
    assert refused.value.code == code
    assert not Photo.objects.exists()


def test_a_picture_too_large_is_refused(visit, settings):
    settings.PHOTO_MAX_BYTES = 500
    with pytest.raises(Invalid) as refused:
        add(visit, make_field.picture(size=(2000, 1500)))
    assert refused.value.code == "picture_too_large"


def test_the_same_photo_sent_twice_is_kept_once(visit):
    key = uuid.uuid4()
    first = add(visit, photo_id=key)
    again = add(visit, photo_id=key)
    assert (again.pk, again.rev, Photo.objects.count()) == (key, first.rev, 1)
    with pytest.raises(Refused) as refused:
        add(visit, make_field.picture("maroon"), photo_id=key)
    assert refused.value.code == "already_there"


def test_a_line_that_asks_for_a_photo_is_answered_while_one_stands(visit):
    by = make_field.worker(visit)
    line, other = visit.job.close_out.filter(asks=CloseOutKind.PHOTO)
    photo = add(visit, line=line)

    def answered():
        line.refresh_from_db()
        return line.done_at is not None

    assert answered()
    photo = photos.remove_photo(photo=photo, by=by, now=NOW, rev=photo.rev)
    assert not answered()
    photo = photos.restore_photo(photo=photo, by=by, now=NOW)
    assert answered()
    said = {"caption": "Cover off", "panel": None, "by": by, "now": NOW, "rev": photo.rev}
    photos.describe_photo(photo=photo, line=other, **said)
    other.refresh_from_db()
    assert not answered()
    assert other.done_at == NOW


def test_a_photo_taken_out_is_kept_and_a_stale_removal_is_told(visit):
    photo = add(visit)
    by = make_field.worker(visit)
    with pytest.raises(Stale):
        photos.remove_photo(photo=photo, by=by, now=NOW, rev=photo.rev + 3)
    photos.remove_photo(photo=photo, by=by, now=NOW)
    assert Photo.objects.count() == 1
    assert not Photo.objects.standing().exists()
    assert path_of(photo.sha256).exists()


def test_lines_and_panels_of_elsewhere_are_refused(visit):
    elsewhere = make_field.under_way(of="Service change")
    for said in ({"line": make_field.line(elsewhere.job, "photo")}, {"panel": a_panel()}):
        with pytest.raises(Invalid) as refused:
            add(visit, **said)
        assert list(refused.value.fields) == list(said)


def test_a_stranger_and_a_closed_job_take_no_photos():
    make.firm()
    visit = make_field.ready()
    with pytest.raises(Refused) as refused:
        add(visit, by=make_field.technician())
    assert refused.value.code == "not_yours"
    make_field.close(visit)
    photo = Photo.objects.first()
    who = {"by": make_field.worker(visit), "now": NOW}
    for act in (
        lambda: add(visit),
        lambda: photos.remove_photo(photo=photo, **who),
        lambda: photos.describe_photo(photo=photo, caption="x", line=None, panel=None, **who),
    ):
        with pytest.raises(Refused) as refused:
            act()
        assert refused.value.code == "job_closed"


def test_a_png_with_transparency_and_a_webp_are_kept_as_jpeg(visit):
    for kind in ("PNG", "WEBP"):
        written = io.BytesIO()
        Image.new("RGBA", (60, 40), (200, 30, 30, 120)).save(written, kind)
        photo = add(visit, ContentFile(written.getvalue(), name="IMG.bin"))
        assert Image.open(path_of(photo.sha256)).format == "JPEG"


@pytest.mark.django_db(transaction=True)
def test_two_sendings_of_one_photo_at_once_keep_one(visit):
    key, by, told = uuid.uuid4(), make_field.worker(visit), []

    def send() -> None:
        try:
            told.append(add(visit, by=by, photo_id=key).pk)
        finally:
            connection.close()

    threads = [threading.Thread(target=send) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert told == [key] * 4
    assert Photo.objects.count() == 1
