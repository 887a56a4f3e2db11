"""Which job kinds does a new firm start with? Read from `kinds.toml`, changed on its screens."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from django.db import transaction

from contractor.models import CertificateKind, Grade
from jobs.models import JobKind, KindCloseOut, KindHold, KindInspection, KindVisit
from jobs.planning.words import CloseOutKind, HoldKind

FILE = Path(__file__).resolve().parent.parent / "kinds.toml"
SOURCE = "common practice, no source"


@transaction.atomic
def load_kinds(file: Path = FILE) -> list[JobKind]:
    """Write the kinds of the file, unless the firm has kinds already. Safe to call again."""
    if JobKind.objects.exists():
        return []
    return [_kind(written) for written in tomllib.loads(file.read_text("utf-8"))["kind"]]


def _kind(written: dict[str, Any]) -> JobKind:
    kind = JobKind.objects.create(
        name=written["name"],
        description=written["description"],
        needs_permit=written.get("needs_permit", True),
        answers_callbacks=written.get("answers_callbacks", False),
        source=SOURCE,
    )
    visits = {visit["name"]: _visit(kind, n, visit) for n, visit in _counted(written["visits"])}
    inspections = {
        inspection["name"]: KindInspection.objects.create(
            kind=kind,
            name=inspection["name"],
            after=visits[inspection["after"]],
            due_days=inspection["within"],
            order=n,
        )
        for n, inspection in _counted(written.get("inspections", []))
    }
    KindHold.objects.bulk_create(
        _hold(visits[visit["name"]], text, inspections)
        for visit in written["visits"]
        for text in visit.get("waits_for", [])
    )
    KindCloseOut.objects.bulk_create(
        KindCloseOut(
            kind=kind,
            label=line["label"],
            asks=CloseOutKind(line["asks"].removesuffix("?")),
            required=not line["asks"].endswith("?"),
            may_not_apply=not line["asks"].startswith("signature"),  # it has its own "why not"
            order=n,
        )
        for n, line in _counted(written["close_out"])
    )
    return kind


def _visit(kind: JobKind, order: int, written: dict[str, Any]) -> KindVisit:
    certificate = None
    if "certificate" in written:
        certificate, _ = CertificateKind.objects.get_or_create(name=written["certificate"])
    return KindVisit.objects.create(
        kind=kind,
        order=order,
        name=written["name"],
        expected_minutes=written["minutes"],
        people_needed=written["people"],
        grade_needed=Grade[written["grade"].upper()] if "grade" in written else None,
        certificate_needed=certificate,
    )


def _hold(visit: KindVisit, text: str, inspections: dict[str, KindInspection]) -> KindHold:
    """`material:subpanel` waits for material, namely the subpanel."""
    word, _, what = text.partition(":")
    kind = HoldKind(word)
    if kind is HoldKind.INSPECTION:
        return KindHold(visit=visit, kind=kind, inspection=inspections[what])
    return KindHold(visit=visit, kind=kind, label=what)


def _counted(rows: list[dict[str, Any]]) -> list[tuple[int, dict[str, Any]]]:
    return list(enumerate(rows, start=1))
