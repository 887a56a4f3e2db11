"""Take in what a utility's meter recorded at a site: all of a file, or nothing and why."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterator
from dataclasses import asdict
from typing import BinaryIO

from django.conf import settings
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import MeterData
from panels.rules.meter import Metered, packed, read_file
from panels.services.guards import lock_site

CHUNK = 1 << 20


def take_in(
    *, site: Site, file: BinaryIO, name: str, by: Person, now: dt.datetime,
    unit: str = "", channel: int | None = None,
) -> tuple[MeterData, bool]:  # fmt: skip
    """Read the file and keep its readings; the second is False where it was here already.

    `unit` is what a person states where the file does not, `channel` which one they chose.
    Raises `Unreadable` or Invalid with a sentence; then nothing was stored.
    """
    digest = _digest(file)
    there = _there(site, digest, channel, unit)
    if there is not None:
        return there, False
    found = read_file(
        file, site.zone, unit=unit, channel=channel, on=now.astimezone(site.zone).date()
    )
    return _keep(
        site=site, found=found, digest=digest, name=name, by=by, now=now, unit=unit,
        channel=channel or 0,
    )  # fmt: skip


@recorded
def _keep(
    *, site: Site, found: Metered, digest: str, name: str, by: Person, now: dt.datetime,
    unit: str, channel: int,
) -> tuple[MeterData, bool]:  # fmt: skip
    """Written in one piece, once per site, file and channel also where two send it at a time."""
    site = lock_site(site.pk)
    there = _there(site, digest, channel, unit)
    if there is not None:
        return there, False
    series, peak = found.series, found.demand
    kept = MeterData(
        site=site,
        digest=digest,
        file_name=" ".join(name.split())[:200] or _("unnamed"),
        form=found.form,
        channel=channel,
        channel_name=found.channel[:300],
        stated_unit=unit if any(one.code == "scale_stated" for one in found.findings) else "",
        power_unit=series.unit,
        interval_s=series.interval,
        first_at=_moment(series.first),
        end_at=_moment(series.end),
        days=found.days,
        count=len(series),
        energy=series.energy,
        peak=peak.power,
        peak_at=_moment(peak.start),
        findings=[asdict(one) for one in found.findings],
        readings=packed(series),
        taken_by=by,
        taken_at=now,
    )
    kept.save(force_insert=True)
    return kept, True


@recorded
def remove(*, data: MeterData, by: Person) -> None:
    """Take a file's readings out for good. Calculations kept from them stay as they are."""
    lock_site(data.site_id)
    MeterData.objects.filter(pk=data.pk).delete()


def _there(site: Site, digest: str, channel: int | None, unit: str) -> MeterData | None:
    """The same file and channel on record. Refused where it was read in another unit."""
    rows = MeterData.objects.filter(site=site, digest=digest, channel=channel or 0)
    found = rows.defer("readings").first()
    if found is not None and found.stated_unit and unit and unit != found.stated_unit:
        sentence = _("This file is here already, read as %(unit)s. Remove that one first.")
        told = sentence % {"unit": found.stated_unit}
        raise Refused("other_unit", told, fields={"unit": told})
    return found


def _digest(file: BinaryIO) -> str:
    """SHA-256 of the file. Raises Invalid where it is larger than is taken."""
    read, size = hashlib.sha256(), 0
    for chunk in _chunks(file):
        size += len(chunk)
        if size > settings.METER_MAX_BYTES:
            most = settings.METER_MAX_BYTES // (1024 * 1024)
            sentence = _(
                "The file is larger than %(most)s MB. Ask the utility for one year by the quarter "
                "hour, or cut it into years."
            ) % {"most": most}
            raise Invalid("file_too_large", sentence, fields={"file": sentence})
        read.update(chunk)
    file.seek(0)
    return read.hexdigest()


def _chunks(file: BinaryIO) -> Iterator[bytes]:
    file.seek(0)
    while chunk := file.read(CHUNK):
        yield chunk


def _moment(seconds: int) -> dt.datetime:
    return dt.datetime.fromtimestamp(seconds, dt.UTC)
