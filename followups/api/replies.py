"""Customers' answers over the API."""

from __future__ import annotations

from typing import Any, cast

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from contractor.access import visible
from contractor.api.pages import ByKey
from contractor.models import Person
from followups.models.answers import ANSWERS
from followups.queries import replies as queries


class ReplyOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    job = serializers.UUIDField(source="job_id")
    answer = serializers.ChoiceField(ANSWERS)
    text = serializers.CharField()
    answered_at = serializers.DateTimeField()
    handled_at = serializers.DateTimeField(allow_null=True)
    photos = serializers.SerializerMethodField()

    def get_photos(self, reply: Any) -> int:
        """How many pictures came with it."""
        return len(reply.photos.all())


class ReplyList(APIView):
    """The answers this person may see: the office all, a technician those of their sites."""

    @extend_schema(
        parameters=[OpenApiParameter("answer", enum=[answer for answer, _label in ANSWERS])],
        responses=ReplyOutput(many=True),
    )
    def get(self, request: Request) -> Response:
        rows = visible(queries.replies(), cast(Person, request.user))
        if answer := request.query_params.get("answer"):
            rows = rows.filter(answer=answer)
        pages = ByKey()
        page = pages.paginate_queryset(rows, request, view=self)
        return pages.get_paginated_response(ReplyOutput(page, many=True).data)
