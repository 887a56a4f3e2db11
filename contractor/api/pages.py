"""How long lists are handed out: by key, so that a page never skips or repeats a row."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, inline_serializer
from rest_framework import serializers
from rest_framework.exceptions import NotFound, ParseError
from rest_framework.pagination import CursorPagination
from rest_framework.request import Request
from rest_framework.response import Response


class ByKey(CursorPagination):
    """Pages in the order of the primary key, up to 500 rows each."""

    ordering = "pk"
    page_size = 100
    page_size_query_param = "limit"
    max_page_size = 500

    def decode_cursor(self, request: Request) -> Any:
        try:
            return super().decode_cursor(request)
        except NotFound as error:  # it was the address that was wrong, not the list
            raise ParseError(_("This cursor cannot be read. Start at the first page.")) from error

    @classmethod
    def answer(
        cls, request: Request, rows: QuerySet[Any], output: type[serializers.Serializer[Any]]
    ) -> Response:
        """The page the request asks for: {next, previous, results}."""
        pages = cls()
        found = pages.paginate_queryset(rows, request)
        return pages.get_paginated_response(output(found, many=True).data)

    @classmethod
    def page_of(cls, output: type[serializers.Serializer[Any]]) -> serializers.Serializer[Any]:
        """How such a page is described in the OpenAPI document."""
        name = f"PageOf{output.__name__.removesuffix('Output')}s"
        return inline_serializer(
            name,
            {
                "next": serializers.URLField(allow_null=True, read_only=True),
                "previous": serializers.URLField(allow_null=True, read_only=True),
                "results": output(many=True),
            },
        )

    @classmethod
    def parameters(cls) -> list[OpenApiParameter]:
        return [
            OpenApiParameter("cursor", description="As given in next or previous."),
            OpenApiParameter("limit", OpenApiTypes.INT, description="Rows a page, up to 500."),
        ]
