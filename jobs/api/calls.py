"""What every call of this room does first: the right, the person, the input, the page."""

from __future__ import annotations

from typing import Any, cast

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from rest_framework import serializers
from rest_framework.permissions import SAFE_METHODS
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from contractor.access import Right, may
from contractor.api.pages import ByKey
from contractor.models import Person


class Call(APIView):
    """Reading needs `reads`, everything else `writes`."""

    reads = Right.FIELD
    writes = Right.OFFICE

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if not may(request.user, self.reads if request.method in SAFE_METHODS else self.writes):
            raise PermissionDenied

    @property
    def person(self) -> Person:
        return cast(Person, self.request.user)

    def said(self, form: type[serializers.Serializer[Any]], **more: Any) -> dict[str, Any]:
        """What was sent, checked. Raises ValidationError by field."""
        sent = form(data=self.request.data, **more)
        sent.is_valid(raise_exception=True)
        return dict(sent.validated_data)

    def page_of(self, rows: QuerySet[Any], output: type[serializers.Serializer[Any]]) -> Response:
        pages = ByKey()
        page = pages.paginate_queryset(rows, self.request, view=self)
        return pages.get_paginated_response(output(page, many=True).data)
