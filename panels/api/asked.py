"""What does a request ask for: its values, and the rows it names by key?"""

from __future__ import annotations

import uuid
from typing import Any, TypeVar, cast

from django.db import models
from django.utils.translation import gettext as _
from rest_framework import serializers
from rest_framework.request import Request

from contractor.access import visible
from contractor.errors import Invalid
from contractor.models import Person

M = TypeVar("M", bound=models.Model)


def person(request: Request) -> Person:
    return cast(Person, request.user)


def said(
    shape: type[serializers.Serializer[Any]], request: Request, *, partial: bool = False
) -> dict[str, Any]:
    """The values sent, in the shape's terms. Raises ValidationError (400)."""
    asked = shape(data=request.data, partial=partial)
    asked.is_valid(raise_exception=True)
    return dict(asked.validated_data)


def named(
    rows: type[M] | models.QuerySet[M], key: uuid.UUID | None, request: Request, *, field: str
) -> M | None:
    """The row a field names, None for null. What this person may not see is not there."""
    if key is None:
        return None
    queryset = rows if isinstance(rows, models.QuerySet) else rows._default_manager.all()
    found = visible(queryset, person(request)).filter(pk=key).first()
    if found is None:
        sentence = _("There is no such record, or none you may see.")
        raise Invalid("no_such_record", sentence, fields={field: sentence})
    return found
