"""Change what a kind of job lays out; jobs already booked keep what they were given."""

from __future__ import annotations

from typing import Any, TypeVar

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Person
from contractor.services.saving import save_clean
from jobs.models import (
    JobKind,
    KindCloseOut,
    KindHold,
    KindInspection,
    KindVisit,
    OverrideRule,
    SupervisionRule,
)
from jobs.planning.words import NEVER, USUALLY_ALLOWED, Code
from jobs.services.ordering import move_one_place

Part = KindVisit | KindHold | KindInspection | KindCloseOut
InOrder = KindVisit | KindInspection | KindCloseOut
P = TypeVar("P", KindVisit, KindHold, KindInspection, KindCloseOut)


@recorded
def save_kind(*, kind: JobKind, by: Person) -> JobKind:
    if kind.pk is None and not kind.source:
        kind.source = _("the firm’s own")
    if kind.answers_callbacks and not kind.is_active:
        raise _needed("is_active")
    return save_clean(kind)


@recorded
def remove_kind(*, kind: JobKind, by: Person) -> None:
    """Only a kind that no job was booked from; any other is no longer offered instead."""
    if kind.answers_callbacks:
        raise _needed()
    if kind.jobs.exists():
        raise Refused("kind_used", _("Jobs were booked from this kind. Stop offering it instead."))
    kind.delete()


def _needed(field: str = "") -> Refused:
    sentence = _("Callbacks are booked from this kind, so it has to stay. Change what it lays out.")
    return Refused("answers_callbacks", sentence, fields={field: sentence} if field else None)


@recorded
def save_part(*, part: P, by: Person) -> P:
    """A new part goes last among its neighbours."""
    if part.pk is None and not isinstance(part, KindHold):
        last = _neighbours(part).last()
        part.order = last.order + 1 if last else 1
    return save_clean(part)


@recorded
def reorder_part(*, part: InOrder, earlier: bool, by: Person) -> None:
    move_one_place(_neighbours(part), part, earlier=earlier)


@recorded
def remove_part(*, part: Part, by: Person) -> None:
    """With a visit go its holds and the inspections after it."""
    part.delete()


def _neighbours(part: InOrder) -> QuerySet[Any]:
    return type(part).objects.select_for_update().filter(kind=part.kind_id).order_by("order", "id")


@recorded
def save_override_rules(*, allowed: set[Code], by: Person) -> None:
    """Keep a row only where the firm differs from what is usual."""
    for code in Code:
        if code in NEVER:
            continue
        if (code in allowed) == (code in USUALLY_ALLOWED):
            OverrideRule.objects.filter(code=code.value).delete()
        else:
            OverrideRule.objects.update_or_create(
                code=code.value, defaults={"allowed": code in allowed}
            )


@recorded
def save_supervision_rule(*, rule: SupervisionRule, by: Person) -> SupervisionRule:
    return save_clean(rule)


@recorded
def remove_supervision_rule(*, rule: SupervisionRule, by: Person) -> None:
    rule.delete()
