"""Jobs over the API: the list, booking one, its words, cancelling it; and the kinds they are of."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import OfficeCall
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH
from contractor.models import Site
from jobs import queries, services
from jobs.models import Job, JobKind
from jobs.planning.steps import NextStep
from jobs.planning.words import JobState


class JobOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    number = serializers.IntegerField()
    site = serializers.UUIDField(source="site_id")
    kind = serializers.IntegerField(source="kind_id")
    title = serializers.CharField()
    scope = serializers.CharField()
    state = serializers.ChoiceField([state.value for state in JobState])
    next_step = serializers.ChoiceField([step.value for step in NextStep], source="step")
    booked_at = serializers.DateTimeField()
    closed_at = serializers.DateTimeField(allow_null=True)
    callback_of = serializers.UUIDField(source="callback_of_id", allow_null=True)
    cancelled_because = serializers.CharField()


class BookInput(serializers.Serializer[Any]):
    id = serializers.UUIDField(
        required=False, help_text="Made by the caller, so that a repeated call books once."
    )
    site = serializers.UUIDField()
    kind = serializers.PrimaryKeyRelatedField(queryset=JobKind.objects.all())
    title = serializers.CharField(max_length=120)
    scope = serializers.CharField(required=False, allow_blank=True, max_length=5000)


class JobInput(serializers.Serializer[Any]):
    title = serializers.CharField(max_length=120, required=False)
    scope = serializers.CharField(required=False, allow_blank=True, max_length=5000)


class CancelInput(serializers.Serializer[Any]):
    because = serializers.CharField(max_length=200)


class KindOutput(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    name = serializers.CharField()
    description = serializers.CharField()
    needs_permit = serializers.BooleanField()
    is_active = serializers.BooleanField()


def told(job: Job) -> dict[str, Any]:
    """The job as it is now, with its next step."""
    return dict(JobOutput(queries.with_step(Job.objects.filter(pk=job.pk)).get()).data)


class JobList(OfficeCall):
    @extend_schema(
        operation_id="jobs_list",
        parameters=[
            OpenApiParameter("q", description="Number, words, customer, street, permit number."),
            OpenApiParameter("state", enum=[state.value for state in JobState]),
            OpenApiParameter("next_step", enum=[step.value for step in NextStep]),
            OpenApiParameter("site", type=uuid.UUID),
            *ByKey.parameters(),
        ],
        responses=ByKey.page_of(JobOutput),
    )
    def get(self, request: Request) -> Response:
        """The jobs this person may see."""
        asked = request.query_params
        rows = queries.jobs(
            self.person,
            words=asked.get("q", ""),
            state=asked.get("state", ""),
            step=asked.get("next_step", ""),
        )
        if site := asked.get("site"):
            rows = rows.filter(site=serializers.UUIDField().run_validation(site))
        return self.page_of(rows, JobOutput)

    @extend_schema(request=BookInput, responses={201: JobOutput, 200: JobOutput})
    def post(self, request: Request) -> Response:
        """Book a job: its kind lays out visits, holds, permit, inspections and close-out list.

        200 when the same booking, named by its `id`, was made before.
        """
        said = self.said(BookInput)
        now, site = timezone.now(), fetch(Site, self.person, pk=said.pop("site"))
        job = services.book_job(
            job_id=said.pop("id", None), site=site, by=self.person, now=now, **said
        )
        return with_etag(told(job), job, 201 if job.booked_at == now else 200)


class OneJob(OfficeCall):
    @extend_schema(responses=JobOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        job = fetch(Job, self.person, pk=pk)
        return with_etag(told(job), job)

    @extend_schema(request=JobInput, responses=JobOutput, parameters=[IF_MATCH])
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        """Other words for what is to be done."""
        job = fetch(Job, self.person, pk=pk)
        said = self.said(JobInput)
        job = services.change_job(job=job, by=self.person, rev=base_rev(request), **said)
        return with_etag(told(job), job)


class CancelJob(OfficeCall):
    @extend_schema(request=CancelInput, responses=JobOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """Cancel the job: its visits come off the plan."""
        job, said = fetch(Job, self.person, pk=pk), self.said(CancelInput)
        job = services.cancel_job(
            job=job, by=self.person, now=timezone.now(), rev=base_rev(request), **said
        )
        return with_etag(told(job), job)

    @extend_schema(responses=JobOutput, parameters=[IF_MATCH])
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        """The job is on again; its visits wait to be planned."""
        job = fetch(Job, self.person, pk=pk)
        job = services.reinstate_job(job=job, by=self.person, rev=base_rev(request))
        return with_etag(told(job), job)


class KindList(OfficeCall):
    @extend_schema(parameters=ByKey.parameters(), responses=ByKey.page_of(KindOutput))
    def get(self, request: Request) -> Response:
        """The kinds of job this firm books."""
        return self.page_of(JobKind.objects.all(), KindOutput)
