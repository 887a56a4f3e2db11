"""Visits over the API: by day, one, its needs and promise, the crew on it, what it waits for."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import OfficeCall
from contractor.api.moments import MomentField
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH
from contractor.models import CertificateKind, Crew, Grade, Person
from jobs import queries, services
from jobs.models import Hold, Job, Visit
from jobs.planning.words import Code, HoldKind, VisitState


class HoldOutput(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    kind = serializers.ChoiceField([kind.value for kind in HoldKind])
    label = serializers.CharField()  # type: ignore[assignment]
    inspection = serializers.IntegerField(source="inspection_id", allow_null=True)
    expected_on = serializers.DateField(allow_null=True)
    released_at = serializers.DateTimeField(allow_null=True)
    released_by = serializers.UUIDField(source="released_by_id", allow_null=True)
    reason = serializers.CharField()


class VisitOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    job = serializers.UUIDField(source="job_id")
    name = serializers.CharField()
    order = serializers.IntegerField()
    state = serializers.ChoiceField([state.value for state in VisitState])
    expected_minutes = serializers.IntegerField()
    people_needed = serializers.IntegerField()
    grade_needed = serializers.IntegerField(allow_null=True)
    certificate_needed = serializers.IntegerField(source="certificate_needed_id", allow_null=True)
    crew = serializers.IntegerField(source="crew_id", allow_null=True)
    people = serializers.SerializerMethodField()
    starts_at = serializers.DateTimeField(allow_null=True)
    ends_at = serializers.DateTimeField(allow_null=True)
    promised_from = serializers.DateTimeField(allow_null=True)
    promised_until = serializers.DateTimeField(allow_null=True)
    arrived_at = serializers.DateTimeField(allow_null=True)
    left_at = serializers.DateTimeField(allow_null=True)
    holds = HoldOutput(many=True)

    def get_people(self, visit: Visit) -> list[uuid.UUID]:
        return [row.person_id for row in visit.assignments.all()]


class VisitInput(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=60, required=False)
    expected_minutes = serializers.IntegerField(min_value=5, max_value=1440, required=False)
    people_needed = serializers.IntegerField(min_value=1, max_value=20, required=False)
    grade_needed = serializers.ChoiceField(Grade.choices, required=False, allow_null=True)
    certificate_needed = serializers.PrimaryKeyRelatedField(
        queryset=CertificateKind.objects.all(), required=False, allow_null=True
    )


class NewVisitInput(VisitInput):
    id = serializers.UUIDField(required=False)
    name = serializers.CharField(max_length=60)


class PromiseInput(serializers.Serializer[Any]):
    promised_from = MomentField(allow_null=True)
    promised_until = MomentField(allow_null=True)


class PlanInput(serializers.Serializer[Any]):
    crew = serializers.PrimaryKeyRelatedField(queryset=Crew.objects.filter(is_active=True))
    starts_at = MomentField()
    ends_at = MomentField(
        required=False, allow_null=True, help_text="Left out: after the expected minutes."
    )
    people = serializers.PrimaryKeyRelatedField(
        queryset=Person.objects.filter(is_active=True),
        many=True,
        required=False,
        help_text="Left out: the crew's usual people.",
    )
    overrides = serializers.DictField(
        child=serializers.CharField(max_length=300),
        required=False,
        help_text="Reasons for insisting, by the refusal's code.",
    )

    def validate_overrides(self, said: dict[str, str]) -> dict[str, str]:
        if unknown := set(said) - {code.value for code in Code}:
            told = _("No refusal is called %(codes)s.") % {"codes": ", ".join(sorted(unknown))}
            raise serializers.ValidationError(told)
        return said


NEEDS = ("name", "expected_minutes", "people_needed", "grade_needed", "certificate_needed")
ROWS = Visit.objects.prefetch_related("holds", "assignments")


def told(visit: Visit) -> dict[str, Any]:
    return dict(VisitOutput(ROWS.get(pk=visit.pk)).data)


class VisitList(OfficeCall):
    @extend_schema(
        operation_id="visits_list",
        parameters=[
            OpenApiParameter("on", type=dt.date, description="The day, in the firm's time zone."),
            OpenApiParameter("mine", type=bool, description="Only those I am on."),
            OpenApiParameter("job", type=uuid.UUID),
            OpenApiParameter("state", enum=[state.value for state in VisitState]),
            *ByKey.parameters(),
        ],
        responses=ByKey.page_of(VisitOutput),
    )
    def get(self, request: Request) -> Response:
        """Visits this person may see, by day, person, job or state."""
        asked, rows = request.query_params, visible(ROWS, self.person)
        if day := asked.get("on"):
            rows = queries.on_day(rows, serializers.DateField().run_validation(day))
        if asked.get("mine") in ("1", "true"):
            rows = rows.filter(assignments__person=self.person)
        if job := asked.get("job"):
            rows = rows.filter(job=serializers.UUIDField().run_validation(job))
        if state := asked.get("state"):
            rows = rows.filter(state=state)
        return self.page_of(rows, VisitOutput)


class NewVisit(OfficeCall):
    @extend_schema(request=NewVisitInput, responses={201: VisitOutput, 200: VisitOutput})
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        """One more visit of this job; 200 when the visit of that `id` was added before."""
        job, said = fetch(Job, self.person, pk=pk), self.said(NewVisitInput)
        key = said.pop("id", None) or uuid.uuid4()
        there = Visit.objects.filter(pk=key).exists()
        visit = services.add_visit(job=job, visit_id=key, by=self.person, **said)
        return with_etag(told(visit), visit, 200 if there else 201)


class OneVisit(OfficeCall):
    @extend_schema(responses=VisitOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        visit = fetch(Visit, self.person, pk=pk)
        return with_etag(told(visit), visit)

    @extend_schema(request=VisitInput, responses=VisitOutput, parameters=[IF_MATCH])
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        """What the visit is called and needs, for this job only."""
        visit = fetch(Visit, self.person, pk=pk)
        needs: dict[str, Any] = {name: getattr(visit, name) for name in NEEDS}
        needs |= self.said(VisitInput)
        visit = services.change_visit(visit=visit, by=self.person, rev=base_rev(request), **needs)
        return with_etag(told(visit), visit)


class Promise(OfficeCall):
    @extend_schema(request=PromiseInput, responses=VisitOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """When the customer was told somebody comes; both null takes it back."""
        visit, said = fetch(Visit, self.person, pk=pk), self.said(PromiseInput)
        visit = services.promise_arrival(
            visit=visit, by=self.person, now=timezone.now(), rev=base_rev(request), **said
        )
        return with_etag(told(visit), visit)


class Plan(OfficeCall):
    @extend_schema(request=PlanInput, responses=VisitOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """Put a crew on the visit, or move it. 409 names every reason against it at once; those
        with `can_override` give way to a reason in `overrides`."""
        visit, said = fetch(Visit, self.person, pk=pk), self.said(PlanInput)
        visit = services.assign_crew(
            visit=visit, by=self.person, now=timezone.now(), rev=base_rev(request), **said
        )
        return with_etag(told(visit), visit)

    @extend_schema(responses=VisitOutput, parameters=[IF_MATCH])
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        """Take the visit off the plan."""
        visit = fetch(Visit, self.person, pk=pk)
        visit = services.unassign(
            visit=visit, by=self.person, now=timezone.now(), rev=base_rev(request)
        )
        return with_etag(told(visit), visit)


class ReleaseInput(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=200, required=False, allow_blank=True)


class ReleaseHold(OfficeCall):
    @extend_schema(request=ReleaseInput, responses=HoldOutput)
    def put(self, request: Request, pk: int) -> Response:
        """It is so: the visit no longer waits for it."""
        hold, said = fetch(Hold, self.person, pk=pk), self.said(ReleaseInput)
        hold = services.release_hold(hold=hold, by=self.person, now=timezone.now(), **said)
        return Response(HoldOutput(hold).data)

    @extend_schema(responses={200: HoldOutput})
    def delete(self, request: Request, pk: int) -> Response:
        """It is not so after all: the visit waits again."""
        hold = services.unrelease_hold(hold=fetch(Hold, self.person, pk=pk), by=self.person)
        return Response(HoldOutput(hold).data)
