"""Who may see and do what: the one place where that is decided.

Rights are data (`RIGHTS`); which rows a technician sees follows from the visits they or their
crews are on. Everything about a site - its panels, photos, jobs - is seen by those who see
the site or the visit.
"""

from __future__ import annotations

import enum
from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

from django.core.exceptions import PermissionDenied, ValidationError
from django.db import models
from django.db.models import Q, QuerySet
from django.http import Http404, HttpRequest, HttpResponseBase
from django_htmx.middleware import HtmxDetails

from contractor.models import Person, Role

M = TypeVar("M", bound=models.Model)
View = Callable[..., HttpResponseBase]
V = TypeVar("V", bound=View)


class Right(enum.StrEnum):
    """Something a person may do; every page and every API call names one."""

    SIGNED_IN = "be signed in"
    FIRM = "change the firm"
    PEOPLE = "change people and crews"
    OFFICE = "run the office"
    FIELD = "work in the field"
    WATCH = "watch the firm"


RIGHTS: dict[Right, frozenset[str]] = {
    Right.SIGNED_IN: frozenset(Role.values),
    Right.FIRM: frozenset({Role.OWNER}),
    Right.PEOPLE: frozenset({Role.OWNER, Role.COORDINATOR}),
    Right.OFFICE: frozenset({Role.OWNER, Role.COORDINATOR}),
    Right.FIELD: frozenset(Role.values),
    Right.WATCH: frozenset({Role.OWNER, Role.COORDINATOR}),
}

# How each kind of row hangs on a visit (lookups across the rooms, as strings: this is the
# lowest room). A technician sees the row when the visit is theirs or their crew's.
TO_VISIT: dict[str, str] = {
    "jobs.visit": "",
    "jobs.job": "visits",
    "jobs.photo": "visit__job__visits",
    "jobs.closeoutline": "job__visits",
    "jobs.signature": "job__visits",
    "jobs.permit": "job__visits",
    "jobs.inspection": "job__visits",
    "jobs.hold": "visit",
    "contractor.site": "jobs__visits",
    "contractor.customer": "sites__jobs__visits",
    "panels.panel": "site__jobs__visits",
    "panels.circuit": "panel__site__jobs__visits",
    "panels.source": "site__jobs__visits",
    "panels.reading": "panel__site__jobs__visits",
    "panels.directoryrevision": "panel__site__jobs__visits",
    "panels.meterdata": "site__jobs__visits",
    "panels.load": "site__jobs__visits",
    "panels.calculation": "site__jobs__visits",
    "followups.reply": "job__site__jobs__visits",
    "followups.replyphoto": "reply__job__site__jobs__visits",
    "followups.callback": "job__site__jobs__visits",
}


class SignedIn(HttpRequest):
    """A request of someone who is signed in: what every view marked with `needs` is given."""

    user: Person
    htmx: HtmxDetails


def may(person: Any, right: Right) -> bool:
    """True when the person's role carries the right."""
    return (
        bool(getattr(person, "is_active", False)) and getattr(person, "role", "") in RIGHTS[right]
    )


def may_change_person(by: Person, person: Person) -> bool:
    """The office changes people; what makes or changes an owner is for owners alone."""
    return may(by, Right.PEOPLE) and (by.is_owner or not person.is_owner)


def visible(rows: QuerySet[M], person: Person) -> QuerySet[M]:
    """The rows this person may see. The office sees all; a technician what their visits touch."""
    if not person.is_active:
        return rows.none()
    if person.is_office:
        return rows
    path = TO_VISIT.get(rows.model._meta.label_lower)
    if path is None:
        return rows.none()
    step = f"{path}__" if path else ""
    mine = Q(**{f"{step}assignments__person": person}) | Q(
        **{f"{step}crew__members__person": person}
    )
    return rows.filter(pk__in=rows.model._default_manager.filter(mine).values("pk"))


def fetch(rows: QuerySet[M] | type[M], person: Any, **lookup: Any) -> M:
    """One row by lookup if this person may see it; 404 otherwise, so existence is not told."""
    queryset = rows if isinstance(rows, QuerySet) else rows._default_manager.all()
    try:
        found = visible(queryset, person).filter(**lookup).first()
    except ValidationError as error:  # an address or a field that is no key at all
        raise Http404 from error
    if found is None:
        raise Http404
    return found


def needs(right: Right) -> Callable[[View], View]:
    """Mark a page with the right it needs and refuse everyone without it."""

    def mark(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if not may(request.user, right):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        guarded.right = right  # type: ignore[attr-defined]
        return guarded

    return mark


def open_to_all(view: V) -> V:
    """Mark a page that needs no sign-in: sign-in itself, health, the customer's pages."""
    view.open_to_all = True  # type: ignore[attr-defined]
    return view
