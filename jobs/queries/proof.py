"""What was proved, written down once as plain values: the close-out record reads from this."""

from __future__ import annotations

import datetime as dt
from typing import Any

from jobs.models import Override, Photo, Signature, Visit
from jobs.queries.close_out import Row, Sheet, told
from panels.models import DirectoryRevision
from panels.queries.readings import Judged

Plain = dict[str, Any]


def proved(sheet: Sheet) -> Plain:
    """Everything about the job that its close-out stands for, as it is now."""
    job = sheet.job
    return {
        "number": job.number,
        "title": job.title,
        "kind": job.kind.name,
        "site": job.site.address,
        "customer": job.site.customer.name,
        "visits": [_visit(visit) for visit in _with_people(sheet)],
        "lines": [_row(row) for row in sheet.rows],
        "photos": [_photo(photo) for photo in _others(sheet)],
        "signature": _signature(sheet.signature),
        "directories": _directories(sheet),
        "permits": [
            {"number": row.number, "state": row.state, "state_name": str(row.get_state_display())}
            for row in job.permits.all()
        ],
        "inspections": [
            {
                "name": row.name,
                "state": row.state,
                "state_name": str(row.get_state_display()),
                "on": row.done_on.isoformat() if row.done_on else "",
                "inspector": row.inspector,
            }
            for row in job.inspections.all()
        ],
        "overrides": [_override(row) for row in _overrides(sheet)],
        "notices": [told(gap) for gap in sheet.notices],
    }


def _with_people(sheet: Sheet) -> list[Visit]:
    rows = sheet.job.visits.select_related("crew").prefetch_related("assignments__person")
    return list(rows)


def _visit(visit: Visit) -> Plain:
    return {
        "name": visit.name,
        "state": visit.state,
        "state_name": str(visit.get_state_display()),
        "crew": visit.crew.name if visit.crew else "",
        "people": sorted(row.person.name for row in visit.assignments.all()),
        "arrived_at": _moment(visit.arrived_at),
        "left_at": _moment(visit.left_at),
        "notes": visit.notes,
    }


def _row(row: Row) -> Plain:
    line = row.line
    return {
        "label": line.label,
        "asks": line.asks,
        "required": line.required,
        "answered": row.answered,
        "does_not_apply": line.not_applicable,
        "note": line.note,
        "by": line.done_by.name if line.done_by else "",
        "at": _moment(line.done_at),
        "readings": [_reading(judged) for judged in row.readings],
        "photos": [_photo(photo) for photo in row.photos],
    }


def _reading(judged: Judged) -> Plain:
    reading = judged.reading
    return {
        "panel": reading.panel.name,
        "circuit": str(reading.circuit) if reading.circuit else "",
        "kind": reading.kind,
        "between": reading.between,
        "value": reading.value,
        "test_v": reading.test_v,
        "temperature_c": reading.temperature_c,
        "marked_value": reading.marked_value,
        "instrument": reading.instrument,
        "by": reading.taken_by.name,
        "at": _moment(reading.taken_at),
        "finding": judged.judgement.finding.value,
        "finding_name": judged.judgement.finding.label,
        "why": judged.judgement.sentence,
        "source": judged.judgement.source,
    }


def _photo(photo: Photo) -> Plain:
    return {
        "id": str(photo.pk),
        "sha256": photo.sha256,
        "caption": photo.caption,
        "panel": photo.panel.name if photo.panel else "",
        "by": photo.taken_by.name,
        "at": _moment(photo.taken_at),
    }


def _others(sheet: Sheet) -> list[Photo]:
    """Photos of the work that no line of the list asked for."""
    rows = Photo.objects.standing().filter(visit__job=sheet.job, line=None)
    return list(rows.select_related("taken_by", "panel"))


def _signature(signature: Signature | None) -> Plain | None:
    if signature is None:
        return None
    return {
        "signed_name": signature.signed_name,
        "strokes": signature.strokes,
        "by_typed_name": signature.by_typed_name,
        "absent_reason": signature.absent_reason,
        "by": signature.taken_by.name,
        "at": _moment(signature.signed_at),
    }


def _directories(sheet: Sheet) -> list[Plain]:
    rows = DirectoryRevision.objects.filter(panel__in=[panel.key for panel in sheet.panels])
    rows = rows.select_related("panel", "issued_by").order_by("panel_id", "-number")
    return [
        {
            "panel": row.panel.name,
            "revision": row.number,
            "id": str(row.pk),
            "digest": row.digest,
            "by": row.issued_by.name,
            "at": _moment(row.issued_at),
        }
        for row in sorted(rows.distinct("panel_id"), key=lambda row: row.panel.name)
    ]


def _overrides(sheet: Sheet) -> list[Override]:
    rows = Override.objects.filter(visit__job=sheet.job).select_related("visit", "by")
    return list(rows)


def _override(row: Override) -> Plain:
    return {
        "visit": row.visit.name,
        "sentence": row.sentence,
        "reason": row.reason,
        "by": row.by.name,
        "at": _moment(row.at),
    }


def _moment(moment: dt.datetime | None) -> str:
    return moment.isoformat() if moment else ""
