"""Keep photos of a visit: each once however often it is sent, taken out and put back."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from django.core.files.base import File
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Person
from contractor.services.pictures import Picture, store_picture
from jobs.models import CloseOutLine, Photo, Visit
from jobs.planning.words import CloseOutKind
from jobs.services.answers import give, withdraw
from jobs.services.guards import open_job, open_visit, unusable
from panels.models import Panel
from panels.services.readings import AHEAD


def add_photo(
    *,
    visit: Visit,
    upload: File[Any],
    by: Person,
    now: dt.datetime,
    photo_id: uuid.UUID | None = None,
    line: CloseOutLine | None = None,
    panel: Panel | None = None,
    caption: str = "",
    taken_at: dt.datetime | None = None,
) -> Photo:
    """The picture re-encoded without its metadata, and the row that says what it shows.

    The same picture sent twice under one id is kept once; another picture under that id is
    refused (`already_there`). Raises Invalid for what is no picture or too large.
    """
    picture = store_picture(upload)  # before the transaction: a file without a row is harmless
    return _add(
        visit=visit, picture=picture, by=by, now=now, key=photo_id or uuid.uuid4(), line=line,
        panel=panel, caption=caption, taken_at=taken_at or now,
    )  # fmt: skip


@recorded
def _add(
    *, visit: Visit, picture: Picture, by: Person, now: dt.datetime, key: uuid.UUID,
    line: CloseOutLine | None, panel: Panel | None, caption: str, taken_at: dt.datetime,
) -> Photo:  # fmt: skip
    visit = open_visit(visit, by)
    there = Photo.objects.filter(pk=key).first()
    if there:
        return _same(there, visit, picture)
    if taken_at > now + AHEAD:
        raise unusable(
            "taken_at", _("This photo says it was taken in the future. Check the clock.")
        )
    photo = Photo(
        id=key, visit=visit, sha256=picture.sha256, width=picture.width, height=picture.height,
        bytes=picture.bytes, taken_by=by, taken_at=taken_at,
    )  # fmt: skip
    _describe(photo, line=line, panel=panel, caption=caption)
    photo.save(force_insert=True)
    _settle(photo.line, by=by, now=now)
    return photo


def _same(there: Photo, visit: Visit, picture: Picture) -> Photo:
    if there.visit_id != visit.pk or there.sha256 != picture.sha256:
        raise Refused("already_there", _("Another photo was sent under this number before."))
    return there


@recorded
def describe_photo(
    *, photo: Photo, caption: str, line: CloseOutLine | None, panel: Panel | None, by: Person,
    now: dt.datetime, rev: int | None = None,
) -> Photo:  # fmt: skip
    """What it shows, which line it proves, which panel is on it."""
    photo = _locked(photo, by)
    photo.require_rev(rev)
    before = photo.line
    _describe(photo, line=line, panel=panel, caption=caption)
    return _saved(photo, before, by=by, now=now)


@recorded
def remove_photo(*, photo: Photo, by: Person, now: dt.datetime, rev: int | None = None) -> Photo:
    """Taken out of the record; its file and row stay, so it can be put back."""
    photo = _locked(photo, by)
    if photo.removed_at:
        return photo
    photo.require_rev(rev)
    photo.removed_at, photo.removed_by = now, by
    return _saved(photo, photo.line, by=by, now=now)


@recorded
def restore_photo(*, photo: Photo, by: Person, now: dt.datetime) -> Photo:
    photo = _locked(photo, by)
    if photo.removed_at is None:
        return photo
    photo.removed_at = photo.removed_by = None
    return _saved(photo, photo.line, by=by, now=now)


def _locked(photo: Photo, by: Person) -> Photo:
    job = open_job(Visit.objects.select_related("job").get(pk=photo.visit_id).job, by)
    found = Photo.objects.select_related("visit", "line", "panel").get(pk=photo.pk)
    found.visit.job = job
    return found


def _describe(
    photo: Photo, *, line: CloseOutLine | None, panel: Panel | None, caption: str
) -> None:
    job = photo.visit.job
    if line and line.job_id != job.pk:
        raise unusable("line", _("That line belongs to another job."))
    if panel and panel.site_id != job.site_id:
        raise unusable("panel", _("That panel stands at another site."))
    if len(caption.strip()) > 120:
        raise unusable("caption", _("Say it in up to 120 letters."))
    photo.line, photo.panel, photo.caption = line, panel, caption.strip()


def _saved(photo: Photo, before: CloseOutLine | None, *, by: Person, now: dt.datetime) -> Photo:
    photo.save()
    photo.refresh_from_db(fields=["rev", "changed_at"])
    for line in {before, photo.line}:
        _settle(line, by=by, now=now)
    return photo


def _settle(line: CloseOutLine | None, *, by: Person, now: dt.datetime) -> None:
    """A line that asks for a photo is answered while one stands under it."""
    line = CloseOutLine.objects.filter(pk=line.pk).first() if line else None
    if line is None or line.asks != CloseOutKind.PHOTO or line.not_applicable:
        return
    has_one = Photo.objects.standing().filter(line=line).exists()
    if has_one and line.done_at is None:
        give(line, by=by, now=now)
    elif not has_one and line.done_at:
        withdraw(line)
