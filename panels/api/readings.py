"""Readings of a panel, over the API: recorded and struck out, never altered."""

from __future__ import annotations

import uuid

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call, named
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.services.saving import made_before
from panels.api.shapes import ReadingInput, ReadingOutput
from panels.models import Circuit, Panel, Reading
from panels.services import readings

READINGS = Reading.objects.select_related("panel")
FILLED_IN = ("taken_by", "taken_at")


class ReadingsView(Call):
    """What was measured at a panel, judged lightly; record one."""

    @extend_schema(
        operation_id="panel_readings_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(ReadingOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        panel = fetch(Panel, self.person, pk=pk)
        rows = visible(READINGS.filter(panel=panel), self.person)
        return ByKey.answer(request, rows, ReadingOutput)

    @extend_schema(
        operation_id="panel_readings_create",
        request=ReadingInput,
        responses={200: ReadingOutput, 201: ReadingOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        panel = fetch(Panel, self.person, pk=pk)
        asked = self.said(ReadingInput)
        key, circuit = asked.pop("id", None), asked.pop("circuit_id", None)
        asked["circuit"] = named(Circuit, circuit, self.person, field="circuit")
        there = made_before(Reading, key, {**asked, "panel": panel}, but=FILLED_IN)
        if there is not None:
            return with_etag(ReadingOutput(there).data, there)
        by, now = self.person, timezone.now()
        made = readings.record_reading(panel=panel, by=by, now=now, id=key, **asked)
        return with_etag(ReadingOutput(made).data, made, status=201)


class ReadingView(Call):
    """One reading. DELETE strikes it out; the history keeps it."""

    @extend_schema(operation_id="readings_retrieve", responses=ReadingOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(READINGS, self.person, pk=pk)
        return with_etag(ReadingOutput(found).data, found)

    @extend_schema(
        operation_id="readings_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(READINGS, self.person, pk=pk)
        readings.remove_reading(reading=found, by=self.person, rev=rev)
        return Response(status=204)
