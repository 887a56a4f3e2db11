"""Customers' answers over the API."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import visible
from contractor.api.calls import Call
from contractor.api.pages import ByKey
from followups.cadence.words import Answer
from followups.models import Reply
from followups.queries import replies as queries

ANSWERS = [answer.value for answer in Answer]


class ReplyOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    job = serializers.UUIDField(source="job_id")
    answer = serializers.ChoiceField(ANSWERS)
    text = serializers.CharField()
    answered_at = serializers.DateTimeField()
    handled_at = serializers.DateTimeField(allow_null=True)
    pictures = serializers.SerializerMethodField(help_text="How many came with it.")

    def get_pictures(self, reply: Reply) -> int:
        return len(reply.photos.all())


class RepliesView(Call):
    """The answers this person may see: the office all, a technician those of their sites."""

    @extend_schema(
        operation_id="replies_list",
        parameters=[OpenApiParameter("answer", enum=ANSWERS), *ByKey.parameters()],
        responses=ByKey.page_of(ReplyOutput),
    )
    def get(self, request: Request) -> Response:
        rows = visible(queries.replies(), self.person)
        answer = request.query_params.get("answer")
        return self.page_of(rows.filter(answer=answer) if answer else rows, ReplyOutput)
