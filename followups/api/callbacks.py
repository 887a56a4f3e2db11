"""Callbacks over the API: the list, one, and what is known of its cause."""

from __future__ import annotations

import uuid
from typing import Any

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call, OfficeCall
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH
from followups.models import Callback
from followups.models.callbacks import CALLBACK_STATES
from followups.queries import callbacks as queries
from followups.services import callbacks as services

STATES = [state for state, _label in CALLBACK_STATES]
CAUSES = Callback.Cause.values


class CallbackFields(serializers.Serializer[Any]):
    """What may be written: booking and closing are done on the page, by the office."""

    cause = serializers.ChoiceField(CAUSES, required=False, allow_blank=True)
    cause_text = serializers.CharField(max_length=200, required=False, allow_blank=True)
    note = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class CallbackOutput(CallbackFields):
    id = serializers.UUIDField()
    job = serializers.UUIDField(source="job_id")
    visit = serializers.UUIDField(source="visit_id", allow_null=True)
    crew = serializers.IntegerField(source="crew_id", allow_null=True)
    booked_as = serializers.UUIDField(source="booked_as_id", allow_null=True)
    state = serializers.ChoiceField(STATES)
    what = serializers.CharField()
    resolution = serializers.CharField()
    opened_at = serializers.DateTimeField()
    closed_at = serializers.DateTimeField(allow_null=True)
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()


class CallbacksView(Call):
    """The callbacks this person may see: the office all, a technician those of their sites."""

    @extend_schema(
        operation_id="callbacks_list",
        parameters=[OpenApiParameter("state", enum=STATES), *ByKey.parameters()],
        responses=ByKey.page_of(CallbackOutput),
    )
    def get(self, request: Request) -> Response:
        rows = visible(queries.callbacks(), self.person)
        state = request.query_params.get("state")
        return self.page_of(rows.filter(state=state) if state else rows, CallbackOutput)


class CallbackView(OfficeCall):
    """One callback; its cause and note."""

    @extend_schema(operation_id="callbacks_retrieve", responses=CallbackOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(Callback, self.person, pk=pk)
        return with_etag(CallbackOutput(found).data, found)

    @extend_schema(
        operation_id="callbacks_partial_update",
        parameters=[IF_MATCH],
        request=CallbackFields(partial=True),
        responses=CallbackOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Callback, self.person, pk=pk)
        said = self.said(CallbackFields, partial=True)
        noted = services.note(callback=found, by=self.person, rev=rev, **said)
        return with_etag(CallbackOutput(noted).data, noted)
