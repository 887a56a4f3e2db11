"""How far is the proof of a job, line by line, and what is still missing?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Max, Prefetch
from django.utils.translation import gettext as _

from contractor.models import Person, Site
from jobs.models import CloseOut, CloseOutLine, Job, LineReading, Photo, Signature, Visit
from jobs.planning import close_out as pure
from jobs.planning.close_out import Case, Gap, PanelStanding, Step
from jobs.planning.words import CloseOutKind, VisitState
from panels.directory import content
from panels.models import DirectoryRevision, Panel
from panels.queries.readings import Judged, judged
from panels.services.directory import recorded_of


@dataclass(frozen=True)
class Row:
    """One line of the list as it stands."""

    line: CloseOutLine
    answered: bool
    readings: list[Judged]
    photos: list[Photo]

    @property
    def is_outside(self) -> bool:
        return any(one.is_outside for one in self.readings)

    @property
    def sources(self) -> list[str]:
        """The publications its readings were judged by, each once."""
        return list(dict.fromkeys(filter(None, (one.judgement.source for one in self.readings))))


@dataclass(frozen=True)
class Sheet:
    """The whole list of a job, and what stands between it and its close-out."""

    job: Job
    rows: list[Row]
    missing: list[Gap]
    notices: list[Gap]
    panels: tuple[PanelStanding, ...]
    visits: list[Visit]
    signature: Signature | None
    close_out: CloseOut | None

    @property
    def needed(self) -> int:
        return sum(row.line.required for row in self.rows)

    @property
    def given(self) -> int:
        return sum(row.line.required and row.answered for row in self.rows)

    @property
    def next_row(self) -> Row | None:
        return next((row for row in self.rows if row.line.required and not row.answered), None)

    @property
    def is_open(self) -> bool:
        return self.job.state == "open"


def sheet(job: Job) -> Sheet:
    """Everything the close-out page and the close-out itself go by, in a fixed number of
    queries; `job.site` should be loaded."""
    lines = lines_of(job)
    readings = {line.pk: [judged(row.reading) for row in line.proofs.all()] for line in lines}
    visits = list(job.visits.all())
    signature = Signature.objects.filter(job=job).select_related("taken_by").first()
    panels = standings(job.site, since=job.booked_at)
    case = Case(
        lines=tuple(_line(line) for line in lines),
        panels=panels,
        visits=tuple(_step(visit, visit.name) for visit in visits),
        inspections=tuple(_step(row, row.name) for row in job.inspections.filter(again=None)),
        permits=tuple(_step(row, row.number) for row in job.permits.all()),
        signed=signature is not None,
        outside=tuple(_outside(readings.values())),
    )
    rows = [
        Row(line, pure.answered(given, case), readings[line.pk], _photos(line))
        for line, given in zip(lines, case.lines, strict=True)
    ]
    return Sheet(
        job=job,
        rows=rows,
        missing=pure.missing(case),
        notices=pure.notices(case),
        panels=panels,
        visits=visits,
        signature=signature,
        close_out=standing(job),
    )


def told(gap: Gap) -> str:
    """The sentence in the reader's language."""
    return _(gap.words).format(**gap.values)


def standing(job: Job) -> CloseOut | None:
    """The close-out that holds, if the job is closed."""
    rows = job.close_outs.filter(reopened_at=None).select_related("closed_by")
    return rows.first()


def lines_of(job: Job) -> list[CloseOutLine]:
    proofs = LineReading.objects.select_related(
        "reading__panel", "reading__circuit", "reading__taken_by"
    ).order_by("reading__taken_at", "id")
    photos = Photo.objects.standing().select_related("taken_by", "panel")
    rows = job.close_out.select_related("done_by").prefetch_related(
        Prefetch("proofs", queryset=proofs),
        Prefetch("photos", queryset=photos, to_attr="standing_photos"),
    )
    return list(rows)


def standings(site: Site, *, since: dt.datetime) -> tuple[PanelStanding, ...]:
    """The site's panels: the directory last issued, and whether the record has moved on."""
    latest = {row.panel_id: row for row in _latest(site)}
    written = _written(site)
    found = []
    for directory in recorded_of(site):
        key = directory.identity.panel_id
        panel = written[key]
        issued = latest.get(panel.pk)
        if issued:
            pending = issued.digest != content.digest(content.to_plain(directory))
        else:
            pending = max(filter(None, (panel.changed_at, panel.last_circuit))) >= since  # type: ignore[attr-defined]
        found.append(
            PanelStanding(
                key=key, name=panel.name, revision=issued.number if issued else None,
                pending=pending,
            )
        )  # fmt: skip
    return tuple(found)


def _latest(site: Site) -> Iterable[DirectoryRevision]:
    rows = DirectoryRevision.objects.filter(panel__site=site)
    return rows.order_by("panel_id", "-number").distinct("panel_id")


def _written(site: Site) -> dict[str, Panel]:
    rows = Panel.objects.filter(site=site, retired_at=None)
    return {str(row.pk): row for row in rows.annotate(last_circuit=Max("circuits__changed_at"))}


def _photos(line: CloseOutLine) -> list[Photo]:
    found: list[Photo] = line.standing_photos  # type: ignore[attr-defined]
    return found


def _line(line: CloseOutLine) -> pure.Line:
    return pure.Line(
        key=str(line.pk),
        label=line.label,
        asks=CloseOutKind(line.asks),
        required=line.required,
        does_not_apply=line.not_applicable,
        note=line.note,
        ticked=line.done_at is not None,
        photos=len(_photos(line)),
        readings=len(line.proofs.all()),
    )


def _step(row: Any, name: str) -> Step:
    return Step(
        key=str(row.pk), name=name, state=row.state, state_name=str(row.get_state_display())
    )


def _outside(groups: Iterable[Sequence[Judged]]) -> Iterable[str]:
    for one in (one for group in groups for one in group if one.is_outside):
        reading = one.reading
        yield f"{reading.panel.name}, {reading.between}: {one.judgement.sentence}"


def visit_at_hand(job: Job, person: Person) -> Visit | None:
    """The visit that work in the field now belongs to: the one under way, else the last one
    begun, else the next one planned; a visit of this person before anyone else's."""
    rows = list(job.visits.exclude(state=VisitState.CANCELLED).prefetch_related("assignments"))
    order = {VisitState.UNDER_WAY: 3, VisitState.DONE: 2, VisitState.PLANNED: 1}

    def rank(visit: Visit) -> tuple[int, bool, float]:
        theirs = any(row.person_id == person.pk for row in visit.assignments.all())
        begun = visit.arrived_at or visit.starts_at
        state = VisitState(visit.state)
        late = begun.timestamp() if begun else 0.0
        return order.get(state, 0), theirs, -late if state is VisitState.PLANNED else late

    return max(rows, key=rank, default=None)
