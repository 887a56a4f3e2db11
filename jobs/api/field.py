"""From the field over the API: arrived, left, and what was seen."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call
from contractor.api.moments import MomentField
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH
from jobs.api.visits import VisitOutput, told
from jobs.models import Visit
from jobs.services import field


class MomentInput(serializers.Serializer[Any]):
    at = MomentField(required=False, help_text="When it was; left out: now.")


class NotesInput(serializers.Serializer[Any]):
    text = serializers.CharField(max_length=5000, allow_blank=True)


class NotesOutput(serializers.Serializer[Any]):
    text = serializers.CharField(source="notes")


class Arrived(Call):
    @extend_schema(request=MomentInput, responses=VisitOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """I am here. Repeated it changes nothing; 409 names every hold that is not released."""
        visit, said = fetch(Visit, self.person, pk=pk), self.said(MomentInput)
        visit = field.arrive(
            visit=visit, by=self.person, now=timezone.now(), rev=base_rev(request), **said
        )
        return with_etag(told(visit), visit)

    @extend_schema(responses=VisitOutput, parameters=[IF_MATCH])
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        """Not here after all."""
        visit = fetch(Visit, self.person, pk=pk)
        visit = field.take_back_arrival(visit=visit, by=self.person, rev=base_rev(request))
        return with_etag(told(visit), visit)


class Left(Call):
    @extend_schema(request=MomentInput, responses=VisitOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """I am leaving: the visit is done."""
        visit, said = fetch(Visit, self.person, pk=pk), self.said(MomentInput)
        visit = field.leave(
            visit=visit, by=self.person, now=timezone.now(), rev=base_rev(request), **said
        )
        return with_etag(told(visit), visit)

    @extend_schema(responses=VisitOutput, parameters=[IF_MATCH])
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        """Still here after all."""
        visit = fetch(Visit, self.person, pk=pk)
        visit = field.take_back_leaving(visit=visit, by=self.person, rev=base_rev(request))
        return with_etag(told(visit), visit)


class Notes(Call):
    @extend_schema(responses=NotesOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        """The notes from the field; their ETag is the visit's."""
        visit = fetch(Visit, self.person, pk=pk)
        return with_etag(NotesOutput(visit).data, visit)

    @extend_schema(request=NotesInput, responses=NotesOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """The notes as they read from now on."""
        visit, said = fetch(Visit, self.person, pk=pk), self.said(NotesInput)
        visit = field.note(visit=visit, by=self.person, rev=base_rev(request), **said)
        return with_etag(NotesOutput(visit).data, visit)
