"""What the demo's crews measured, photographed and had signed before they closed a job."""

from __future__ import annotations

import datetime as dt
import io
import math
import random
from typing import Any

from django.core.files.base import ContentFile
from PIL import Image, ImageDraw

from contractor.models import Person
from jobs.models import CloseOutLine, Job, Visit
from jobs.planning.words import CloseOutKind
from jobs.services import answers, measuring, photos, signing
from panels.models import Panel
from panels.rules.layout import System
from panels.rules.readings import conductors, pairs
from panels.services.directory import issue_directory

NOTE = "Found and mended as described to the customer; nothing else to be done."
INSTRUMENT = "Multimeter no. 3"
VOLTS = {"N-G": 0.4}
LEG_TO_NEUTRAL = {System.WYE_480: 277.0}
BETWEEN_LEGS = {System.SPLIT_240: 241.6, System.WYE_208: 209.3, System.WYE_208_2LEG: 209.3}


def prove(*, job: Job, visit: Visit, by: Person, now: dt.datetime) -> None:
    """Answer every line of the job's close-out list as far as the site's record allows."""
    panels = list(Panel.objects.filter(site=job.site_id, retired_at=None))
    chance = random.Random(job.number)  # noqa: S311 - the same demo every time, nothing secret
    for line in job.close_out.all():
        _answer(line, panels, visit, by, now, chance)


def _answer(
    line: CloseOutLine, panels: list[Panel], visit: Visit, by: Person, now: dt.datetime,
    chance: random.Random,
) -> None:  # fmt: skip
    match CloseOutKind(line.asks):
        case CloseOutKind.CHECK:
            answers.tick(line=line, by=by, now=now)
        case CloseOutKind.TEXT:
            answers.write(line=line, text=NOTE, by=by, now=now)
        case CloseOutKind.PHOTO:
            upload = ContentFile(drawn(chance), name="panel.jpg")
            photos.add_photo(
                visit=visit, upload=upload, by=by, now=now, line=line, caption=line.label
            )
        case CloseOutKind.DIRECTORY:
            for panel in panels:
                issue_directory(panel=panel, by=by, now=now)
        case CloseOutKind.SIGNATURE:
            name = visit.job.site.customer.name
            strokes = signature(chance)
            signing.sign(
                job=visit.job, visit=visit, by=by, now=now, signed_name=name, strokes=strokes
            )
        case _:
            if panels:
                _measure(line, panels[0], visit, by, now, chance)


def _measure(
    line: CloseOutLine, panel: Panel, visit: Visit, by: Person, now: dt.datetime,
    chance: random.Random,
) -> None:  # fmt: skip
    system = System(panel.system)
    how: dict[str, Any] = {"instrument": INSTRUMENT}
    if line.asks == CloseOutKind.VOLTAGE:
        values = {pair: _volts(pair, system, chance) for pair in pairs(system)}
    elif line.asks == CloseOutKind.INSULATION:
        values = {pair: round(chance.uniform(380, 900)) for pair in conductors(system)[:3]}
        how |= {"test_v": 500, "temperature_c": 18.0}
    else:
        values = {"lugs": 250.0}
        how |= {"marked_value": 250.0, "instrument": "Torque screwdriver no. 1"}
    measuring.measure(
        line=line, panel=panel, values=values, how=how, by=by, now=now, visit=visit  # type: ignore[arg-type]
    )  # fmt: skip


def _volts(pair: str, system: System, chance: random.Random) -> float:
    if pair in VOLTS:
        return VOLTS[pair]
    usual = LEG_TO_NEUTRAL.get(system, 120.8) if pair.endswith("N") else BETWEEN_LEGS[system]
    return round(usual + chance.uniform(-0.8, 0.8), 1)


def signature(chance: random.Random) -> dict[str, Any]:
    """A scrawl: a wave with a drift, different for every job."""
    swing, pace = chance.uniform(14, 26), chance.uniform(0.28, 0.5)
    points = [
        [20 + step * 3.1, 75 + swing * math.sin(step * pace) * math.cos(step * 0.11)]
        for step in range(90)
    ]
    return {"width": 320, "height": 150, "strokes": [points]}


def drawn(chance: random.Random) -> bytes:
    """A panel with its cover off, drawn: the demo holds no photograph of any real place."""
    picture = Image.new("RGB", (1200, 1600), (226, 221, 208))
    pen = ImageDraw.Draw(picture)
    pen.rectangle((180, 120, 1020, 1480), fill=(150, 152, 150), outline=(60, 60, 60), width=8)
    pen.rectangle((250, 200, 950, 1400), fill=(96, 98, 98))
    pen.rectangle((585, 380, 615, 1340), fill=(186, 140, 88))
    pen.rectangle((450, 230, 750, 350), fill=(24, 24, 26))
    for row in range(18):
        for left in (330, 630):
            if chance.random() < 0.85:
                top = 390 + row * 52
                pen.rectangle((left, top, left + 240, top + 44), fill=(28, 28, 30))
                pen.rectangle((left + 90, top + 12, left + 150, top + 32), fill=(210, 208, 200))
    sheet = io.BytesIO()
    picture.save(sheet, "JPEG", quality=80)
    return sheet.getvalue()
