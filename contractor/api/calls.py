"""What every call does first: the right, the person, the input, the rows it names, the page."""

from __future__ import annotations

import uuid
from typing import Any, TypeVar, cast

from django.db import models
from django.db.models import QuerySet
from django.utils.translation import gettext as _
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from contractor.access import Right, visible
from contractor.api.pages import ByKey
from contractor.api.rights import HasRight
from contractor.errors import Invalid
from contractor.models import Person

M = TypeVar("M", bound=models.Model)
Shape = type[serializers.Serializer[Any]]


class Call(APIView):
    """A call open to whoever works here, on what they may see."""

    permission_classes = (HasRight,)
    right = Right.FIELD

    @property
    def person(self) -> Person:
        return cast(Person, self.request.user)

    def said(self, shape: Shape, **more: Any) -> dict[str, Any]:
        """What was sent, checked. Raises ValidationError by field."""
        sent = shape(data=self.request.data, **more)
        sent.is_valid(raise_exception=True)
        return dict(sent.validated_data)

    def page_of(self, rows: QuerySet[Any], output: Shape) -> Response:
        return ByKey.answer(self.request, rows, output)


class OfficeCall(Call):
    """The field reads, the office changes."""

    right_to_write = Right.OFFICE


def named(
    rows: type[M] | QuerySet[M], key: uuid.UUID | None, person: Person, *, field: str
) -> M | None:
    """The row a field names, None for null. What this person may not see is not there."""
    if key is None:
        return None
    queryset = rows if isinstance(rows, QuerySet) else rows._default_manager.all()
    found = visible(queryset, person).filter(pk=key).first()
    if found is None:
        sentence = _("There is no such record, or none you may see.")
        raise Invalid("no_such_record", sentence, fields={field: sentence})
    return found
