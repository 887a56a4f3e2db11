"""The close-out list over the API: what is asked, what is given, what is missing; and closing."""

from __future__ import annotations

import uuid
from typing import Any, cast

from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call, OfficeCall, named
from contractor.api.moments import MomentField
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from jobs.models import CloseOut, CloseOutLine, Job, Visit
from jobs.planning.close_out import About, Gap
from jobs.planning.words import CloseOutKind
from jobs.queries.close_out import Row, Sheet, sheet, told, visit_at_hand
from jobs.services import answers, measuring
from jobs.services.close_out import close_job, reopen_job
from panels.api.shapes import ReadingOutput
from panels.models import Circuit, Panel
from panels.services.readings import Circumstances

JOBS = Job.objects.select_related("site__customer", "kind")
LINES = CloseOutLine.objects.select_related("job")


class CloseOutLineOutput(serializers.Serializer[Any]):
    """A line of the list. Which of the answers counts is decided by `asks`."""

    id = serializers.UUIDField(source="line.pk")
    rev = serializers.IntegerField(source="line.rev")
    job = serializers.UUIDField(source="line.job_id")
    label = serializers.CharField(source="line.label")  # type: ignore[assignment]
    asks = serializers.ChoiceField([kind.value for kind in CloseOutKind], source="line.asks")
    required = serializers.BooleanField(source="line.required")  # type: ignore[assignment]
    may_not_apply = serializers.BooleanField(source="line.may_not_apply")
    order = serializers.IntegerField(source="line.order")
    answered = serializers.BooleanField()
    does_not_apply = serializers.BooleanField(source="line.not_applicable")
    note = serializers.CharField(source="line.note")
    done_by = serializers.UUIDField(source="line.done_by_id", allow_null=True)
    done_at = serializers.DateTimeField(source="line.done_at", allow_null=True)
    readings = serializers.SerializerMethodField()
    photos = serializers.SerializerMethodField()

    def get_readings(self, row: Row) -> list[uuid.UUID]:
        return [judged.reading.pk for judged in row.readings]

    def get_photos(self, row: Row) -> list[uuid.UUID]:
        return [photo.pk for photo in row.photos]


class CloseOutLineInput(serializers.Serializer[Any]):
    """Exactly one answer: a tick, words, or that it does not apply and why."""

    ticked = serializers.BooleanField(required=False)
    note = serializers.CharField(max_length=5000, required=False, allow_blank=True)
    does_not_apply = serializers.BooleanField(required=False)
    because = serializers.CharField(max_length=300, required=False, allow_blank=True)

    def validate(self, said: dict[str, Any]) -> dict[str, Any]:
        if sum(name in said for name in ("ticked", "note", "does_not_apply")) != 1:
            raise serializers.ValidationError(_("Send one of ticked, note, does_not_apply."))
        return said


class GapOutput(serializers.Serializer[Any]):
    about = serializers.ChoiceField([about.value for about in About])
    id = serializers.CharField(source="key", help_text="The row it is about, if there is one.")
    detail = serializers.SerializerMethodField()

    def get_detail(self, gap: Gap) -> str:
        return told(gap)


class StandingOutput(serializers.Serializer[Any]):
    panel = serializers.UUIDField(source="key")
    name = serializers.CharField()
    revision = serializers.IntegerField(allow_null=True)
    pending = serializers.BooleanField(help_text="The record says something else.")


class SheetOutput(serializers.Serializer[Any]):
    lines = CloseOutLineOutput(many=True, source="rows")
    missing = GapOutput(many=True, help_text="What refuses the close-out.")
    notices = GapOutput(many=True, help_text="What is only worth knowing.")
    panels = StandingOutput(many=True)
    close_out = serializers.UUIDField(source="close_out.pk", allow_null=True, default=None)


class CloseInput(serializers.Serializer[Any]):
    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")
    visit = serializers.UUIDField(
        required=False, allow_null=True, help_text="Closed from this visit, which then is done."
    )
    issue_directories = serializers.BooleanField(default=False)


class CloseOutOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    job = serializers.UUIDField(source="job_id")
    visit = serializers.UUIDField(source="visit_id", allow_null=True)
    closed_by = serializers.UUIDField(source="closed_by_id")
    closed_at = serializers.DateTimeField()
    reopened_at = serializers.DateTimeField(allow_null=True)
    proved = serializers.DictField(help_text="Everything that was proved, as it was then.")


class ReopenInput(serializers.Serializer[Any]):
    because = serializers.CharField(max_length=200)


class ReopenOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    state = serializers.CharField()


class MeasureInput(serializers.Serializer[Any]):
    """Readings of one panel for one line, all or none."""

    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")
    panel = serializers.UUIDField()
    values = serializers.DictField(
        child=serializers.FloatField(), help_text='By what lies between: {"A-N": 121.4}.'
    )
    circuit = serializers.UUIDField(required=False, allow_null=True)
    test_v = serializers.IntegerField(required=False, allow_null=True)
    temperature_c = serializers.FloatField(required=False, allow_null=True)
    marked_value = serializers.FloatField(required=False, allow_null=True)
    instrument = serializers.CharField(max_length=80, required=False, allow_blank=True)
    taken_at = MomentField(required=False)


class JobCloseOut(Call):
    @extend_schema(operation_id="jobs_close_out_retrieve", responses=SheetOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        """The list, what is missing, and what is worth knowing."""
        return Response(SheetOutput(sheet(fetch(JOBS, self.person, pk=pk))).data)

    @extend_schema(
        operation_id="jobs_close_out_create",
        request=CloseInput,
        responses={201: CloseOutOutput, 200: CloseOutOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        """Close the job. 409 names everything missing in `reasons`; 200 when this very request
        closed it before."""
        job, said = fetch(JOBS, self.person, pk=pk), self.said(CloseInput)
        key = said.pop("id", None) or uuid.uuid4()
        there = CloseOut.objects.filter(pk=key, job=job).exists()
        visit = named(Visit, said.pop("visit", None), self.person, field="visit")
        made = close_job(
            job=job, visit=visit, by=self.person, now=timezone.now(), close_out_id=key, **said
        )
        return Response(CloseOutOutput(made).data, 200 if there else 201)


class JobReopened(OfficeCall):
    @extend_schema(request=ReopenInput, responses=ReopenOutput, parameters=[IF_MATCH])
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """The office opens a closed job again; its close-out stays on record."""
        job, said = fetch(Job, self.person, pk=pk), self.said(ReopenInput)
        job = reopen_job(job=job, by=self.person, now=timezone.now(), rev=base_rev(request), **said)
        return with_etag(ReopenOutput(job).data, job)


class JobProof(Call):
    @extend_schema(responses=CloseOutOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        """What was proved when the job was last closed."""
        job = fetch(Job, self.person, pk=pk)
        found = CloseOut.objects.filter(job=job).first()
        if found is None:
            raise Http404
        return Response(CloseOutOutput(found).data)


class Line(Call):
    @extend_schema(responses=CloseOutLineOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        return self.answer(fetch(LINES, self.person, pk=pk))

    @extend_schema(request=CloseOutLineInput, responses=CloseOutLineOutput, parameters=[IF_MATCH])
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        """Tick it, write on it, or say that it does not apply; each can be taken back."""
        line, said = fetch(LINES, self.person, pk=pk), self.said(CloseOutLineInput)
        act: dict[str, Any] = {"line": line, "by": self.person, "rev": base_rev(request)}
        now: dict[str, Any] = {"now": timezone.now()}
        if "ticked" in said:
            answers.tick(done=said["ticked"], **act, **now)
        elif "note" in said:
            answers.write(text=said["note"], **act, **now)
        elif said["does_not_apply"]:
            answers.does_not_apply(because=said.get("because", ""), **act, **now)
        else:
            answers.applies_after_all(**act)
        return self.answer(line)

    def answer(self, line: CloseOutLine) -> Response:
        row = row_of(sheet(fetch(JOBS, self.person, pk=line.job_id)), line)
        return with_etag(CloseOutLineOutput(row).data, row.line)


def row_of(found: Sheet, line: CloseOutLine) -> Row:
    row = next((row for row in found.rows if row.line.pk == line.pk), None)
    if row is None:
        raise Http404
    return row


class LineReadings(Call):
    @extend_schema(
        operation_id="close_out_line_readings_create",
        request=MeasureInput,
        responses={201: ReadingOutput(many=True), 200: ReadingOutput(many=True)},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        """Readings that prove this line; 200 when they were recorded before."""
        line, said = fetch(LINES, self.person, pk=pk), self.said(MeasureInput)
        panel = fetch(Panel, self.person, pk=said.pop("panel"))
        batch, values = said.pop("id", None), said.pop("values")
        before = line.proofs.count()
        said["circuit"] = named(Circuit, said.pop("circuit", None), self.person, field="circuit")
        made = measuring.measure(
            line=line, panel=panel, values=values, taken_at=said.pop("taken_at", None), batch=batch,
            how=cast(Circumstances, said), visit=visit_at_hand(line.job, self.person),
            by=self.person, now=timezone.now(),
        )  # fmt: skip
        status = 200 if line.proofs.count() == before else 201
        return Response(ReadingOutput(made, many=True).data, status)
