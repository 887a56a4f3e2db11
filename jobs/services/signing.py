"""The customer signs, by finger or by typed name; or why nobody could."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Person
from jobs.models import Job, Signature, Visit
from jobs.planning.strokes import NotADrawing, read_drawing
from jobs.planning.words import CloseOutKind
from jobs.services.answers import give, withdraw
from jobs.services.guards import open_job, unusable


@recorded
def sign(
    *,
    job: Job,
    visit: Visit,
    by: Person,
    now: dt.datetime,
    signed_name: str = "",
    strokes: Any = None,
    by_typed_name: bool = False,
    absent_reason: str = "",
    signature_id: uuid.UUID | None = None,
    rev: int | None = None,
) -> Signature:
    """Keep a name with its drawing, a name that counts as typed, or the reason for neither.

    A job has one signature: signing again replaces it, and then asks for `rev`. The same
    signature sent twice with the same id is kept once. Raises Invalid.
    """
    job = open_job(job, by)
    given = _given(signed_name, strokes, by_typed_name, absent_reason)
    there = Signature.objects.filter(job=job).first()
    if there and _says(there, given) and signature_id in (None, there.pk):
        return there
    if there:
        there.require_rev(-1 if rev is None else rev)
    elif signature_id and Signature.objects.filter(pk=signature_id).exists():
        raise Refused("id_taken", _("Another job was signed under this id. Load the list anew."))
    signature = there or Signature(id=signature_id or uuid.uuid4(), job=job)
    for name, value in given.items():
        setattr(signature, name, value)
    signature.visit, signature.taken_by, signature.signed_at = visit, by, now
    signature.save()
    signature.refresh_from_db(fields=["rev", "changed_at"])
    for line in job.close_out.filter(asks=CloseOutKind.SIGNATURE):
        line.not_applicable, line.note = False, ""
        give(line, by=by, now=now)
    return signature


@recorded
def take_back_signature(*, signature: Signature, by: Person, rev: int | None = None) -> None:
    """Off the record, to be signed again; the history keeps what was there."""
    job = open_job(signature.job, by)
    there = Signature.objects.filter(pk=signature.pk).first()
    if there is None:
        return
    there.require_rev(rev)
    there.delete()
    for line in job.close_out.filter(asks=CloseOutKind.SIGNATURE, not_applicable=False):
        withdraw(line)


def _given(name: str, strokes: Any, by_typed_name: bool, absent_reason: str) -> dict[str, Any]:
    name, absent_reason = name.strip(), absent_reason.strip()
    if absent_reason:
        return {
            "signed_name": "",
            "strokes": None,
            "by_typed_name": False,
            "absent_reason": absent_reason,
        }
    if not name:
        raise unusable("signed_name", _("Type the name of the person signing."))
    if not by_typed_name and strokes is None:
        raise unusable("strokes", _("Sign on the line, or tick that the typed name counts."))
    return {
        "signed_name": name,
        "strokes": None if by_typed_name else _drawn(strokes),
        "by_typed_name": by_typed_name,
        "absent_reason": "",
    }


def _drawn(strokes: Any) -> dict[str, Any]:
    try:
        return read_drawing(strokes).to_plain()
    except NotADrawing as fault:
        raise unusable("strokes", _(fault.sentence)) from fault


def _says(there: Signature, given: dict[str, Any]) -> bool:
    return all(getattr(there, name) == value for name, value in given.items())
