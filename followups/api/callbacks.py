"""Callbacks over the API: the list, one, and what is known of its cause."""

from __future__ import annotations

import uuid
from typing import Any, cast

from django.core.exceptions import PermissionDenied
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from contractor.access import Right, fetch, may, visible
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH
from contractor.models import Person
from followups.models import Callback
from followups.models.callbacks import CALLBACK_STATES
from followups.queries import callbacks as queries
from followups.services import callbacks


class CallbackOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    job = serializers.UUIDField(source="job_id")
    visit = serializers.UUIDField(source="visit_id", allow_null=True)
    crew = serializers.IntegerField(source="crew_id", allow_null=True)
    booked_as = serializers.UUIDField(source="booked_as_id", allow_null=True)
    state = serializers.ChoiceField(CALLBACK_STATES)
    what = serializers.CharField()
    cause = serializers.CharField()
    cause_text = serializers.CharField()
    note = serializers.CharField()
    resolution = serializers.CharField()
    opened_at = serializers.DateTimeField()
    closed_at = serializers.DateTimeField(allow_null=True)


class CallbackInput(serializers.Serializer[Any]):
    cause = serializers.ChoiceField(Callback.Cause.choices, required=False, allow_blank=True)
    cause_text = serializers.CharField(max_length=200, required=False, allow_blank=True)
    note = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class CallbackList(APIView):
    """The callbacks this person may see: the office all, a technician those of their sites."""

    @extend_schema(
        parameters=[OpenApiParameter("state", enum=[state for state, _label in CALLBACK_STATES])],
        responses=CallbackOutput(many=True),
    )
    def get(self, request: Request) -> Response:
        rows = visible(queries.callbacks(), cast(Person, request.user))
        if state := request.query_params.get("state"):
            rows = rows.filter(state=state)
        pages = ByKey()
        page = pages.paginate_queryset(rows, request, view=self)
        return pages.get_paginated_response(CallbackOutput(page, many=True).data)


class OneCallback(APIView):
    @extend_schema(responses=CallbackOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        callback = fetch(Callback, cast(Person, request.user), pk=pk)
        return with_etag(CallbackOutput(callback).data, callback)

    @extend_schema(request=CallbackInput, responses=CallbackOutput, parameters=[IF_MATCH])
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        """Cause and note, by the office. Booking and closing are done on the page."""
        if not may(cast(Person, request.user), Right.OFFICE):
            raise PermissionDenied
        said = CallbackInput(data=request.data)
        said.is_valid(raise_exception=True)
        changed = dict(said.validated_data)
        if "note" in changed:
            changed["text"] = changed.pop("note")
        callback = callbacks.note(
            callback=fetch(Callback, cast(Person, request.user), pk=pk),
            by=cast(Person, request.user),
            rev=base_rev(request),
            **changed,
        )
        return with_etag(CallbackOutput(callback).data, callback)
