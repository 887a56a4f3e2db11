"""Permits and inspections over the API: the lists, and what the authority said."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import OfficeCall
from contractor.api.moments import MomentField
from contractor.api.pages import ByKey
from contractor.models import Authority
from jobs import queries, services
from jobs.models import Inspection, Permit
from jobs.planning.words import InspectionState, PermitState


class PermitOutput(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    job = serializers.UUIDField(source="job_id")
    authority = serializers.IntegerField(source="authority_id", allow_null=True)
    number = serializers.CharField()
    state = serializers.ChoiceField([state.value for state in PermitState])
    applied_on = serializers.DateField(allow_null=True)
    issued_on = serializers.DateField(allow_null=True)
    expires_on = serializers.DateField(allow_null=True)
    extended_until = serializers.DateField(allow_null=True)
    finaled_on = serializers.DateField(allow_null=True)


class AuthorityInput(serializers.Serializer[Any]):
    authority = serializers.PrimaryKeyRelatedField(
        queryset=Authority.objects.all(), required=False, help_text="Left out: the site's."
    )


class AppliedInput(AuthorityInput):
    on = serializers.DateField()


class IssuedInput(AuthorityInput):
    number = serializers.CharField(max_length=40)
    issued_on = serializers.DateField()


class FinaledInput(serializers.Serializer[Any]):
    on = serializers.DateField()


class InspectionOutput(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    job = serializers.UUIDField(source="job_id")
    after = serializers.UUIDField(source="after_id", allow_null=True)
    again_of = serializers.IntegerField(source="again_of_id", allow_null=True)
    name = serializers.CharField()
    state = serializers.ChoiceField([state.value for state in InspectionState])
    due_on = serializers.DateField(allow_null=True)
    window_from = serializers.DateTimeField(allow_null=True)
    window_until = serializers.DateTimeField(allow_null=True)
    inspector = serializers.CharField()
    done_on = serializers.DateField(allow_null=True)
    findings = serializers.CharField()


class RequestedInput(serializers.Serializer[Any]):
    window_from = MomentField(required=False, allow_null=True)
    window_until = MomentField(required=False, allow_null=True)
    inspector = serializers.CharField(max_length=80, required=False, allow_blank=True)


class ResultInput(serializers.Serializer[Any]):
    passed = serializers.BooleanField()
    on = serializers.DateField()
    inspector = serializers.CharField(max_length=80, required=False, allow_blank=True)
    findings = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class PermitList(OfficeCall):
    @extend_schema(
        operation_id="permits_list",
        parameters=[
            OpenApiParameter("state", enum=[state.value for state in PermitState]),
            OpenApiParameter("lapsing", type=int, description="Good for so many days at most."),
            *ByKey.parameters(),
        ],
        responses=ByKey.page_of(PermitOutput),
    )
    def get(self, request: Request) -> Response:
        asked, rows = request.query_params, queries.permits()
        if days := asked.get("lapsing"):
            number = serializers.IntegerField(min_value=0, max_value=9999).run_validation(days)
            rows = queries.permits_lapsing(timezone.localdate(), number)
        if state := asked.get("state"):
            rows = rows.filter(state=state)
        return self.page_of(visible(rows, self.person), PermitOutput)


class OnePermit(OfficeCall):
    @extend_schema(responses=PermitOutput)
    def get(self, request: Request, pk: int) -> Response:
        return Response(PermitOutput(fetch(Permit, self.person, pk=pk)).data)


class PermitApplied(OfficeCall):
    @extend_schema(request=AppliedInput, responses=PermitOutput)
    def post(self, request: Request, pk: int) -> Response:
        permit, said = fetch(Permit, self.person, pk=pk), self.said(AppliedInput)
        permit = services.apply_for_permit(permit=permit, by=self.person, **said)
        return Response(PermitOutput(permit).data)


class PermitIssued(OfficeCall):
    @extend_schema(request=IssuedInput, responses=PermitOutput)
    def post(self, request: Request, pk: int) -> Response:
        """Issued: how long it is good follows the authority's rule; what waited is released."""
        permit, said = fetch(Permit, self.person, pk=pk), self.said(IssuedInput)
        permit = services.issue_permit(permit=permit, by=self.person, now=timezone.now(), **said)
        return Response(PermitOutput(permit).data)


class PermitFinaled(OfficeCall):
    @extend_schema(request=FinaledInput, responses=PermitOutput)
    def post(self, request: Request, pk: int) -> Response:
        permit, said = fetch(Permit, self.person, pk=pk), self.said(FinaledInput)
        permit = services.final_permit(permit=permit, by=self.person, **said)
        return Response(PermitOutput(permit).data)


class InspectionList(OfficeCall):
    @extend_schema(
        operation_id="inspections_list",
        parameters=[
            OpenApiParameter("state", enum=["due", "overdue", "failed"]),
            *ByKey.parameters(),
        ],
        responses=ByKey.page_of(InspectionOutput),
    )
    def get(self, request: Request) -> Response:
        """All inspections, or those due, overdue, or failed and to be repeated."""
        on = timezone.localdate()
        lists = {
            "due": queries.inspections_due(on),
            "overdue": queries.inspections_overdue(on),
            "failed": queries.inspections_failed(),
        }
        rows = lists.get(request.query_params.get("state", ""), queries.inspections())
        return self.page_of(visible(rows, self.person), InspectionOutput)


class OneInspection(OfficeCall):
    @extend_schema(responses=InspectionOutput)
    def get(self, request: Request, pk: int) -> Response:
        return Response(InspectionOutput(fetch(Inspection, self.person, pk=pk)).data)


class InspectionRequested(OfficeCall):
    @extend_schema(request=RequestedInput, responses=InspectionOutput)
    def post(self, request: Request, pk: int) -> Response:
        """Asked for, with the inspector's window as far as it is known."""
        found, said = fetch(Inspection, self.person, pk=pk), self.said(RequestedInput)
        found = services.request_inspection(inspection=found, by=self.person, **said)
        return Response(InspectionOutput(found).data)


class InspectionResult(OfficeCall):
    @extend_schema(request=ResultInput, responses=InspectionOutput)
    def post(self, request: Request, pk: int) -> Response:
        """Passed releases what waited for it; failed makes the same inspection due once more."""
        found, said = fetch(Inspection, self.person, pk=pk), self.said(ResultInput)
        found = services.record_result(inspection=found, by=self.person, now=timezone.now(), **said)
        return Response(InspectionOutput(found).data)
