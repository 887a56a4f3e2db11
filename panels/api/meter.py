"""Meter readings over the API: a file taken in once however often it is sent, and read back."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call
from contractor.api.pages import ByKey
from contractor.api.schema import ProblemSerializer
from contractor.models import Site
from panels.models import MeterData
from panels.queries import meter as queries
from panels.rules.meter.channels import SCALES
from panels.services import meter


class MeterFinding(serializers.Serializer[Any]):
    code = serializers.CharField(help_text="For programs.")
    sentence = serializers.CharField(help_text="For people.")
    severity = serializers.ChoiceField(["note", "caution", "bars"], help_text="bars: no 220.87.")


class MeterOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    file_name = serializers.CharField()
    sha256 = serializers.CharField(source="digest")
    form = serializers.CharField(help_text="green_button or csv.")
    channel = serializers.IntegerField(help_text="As asked for; 0: chosen from the file.")
    channel_name = serializers.CharField()
    stated_unit = serializers.CharField()
    power_unit = serializers.CharField(help_text="W or VA: of peak; energy is in it times hours.")
    interval_s = serializers.IntegerField()
    first_at = serializers.DateTimeField()
    end_at = serializers.DateTimeField()
    days = serializers.IntegerField()
    count = serializers.IntegerField()
    energy = serializers.FloatField()
    peak = serializers.FloatField()
    peak_at = serializers.DateTimeField()
    findings = MeterFinding(many=True)
    taken_by = serializers.UUIDField(source="taken_by_id")
    taken_at = serializers.DateTimeField()


class MeterInput(serializers.Serializer[Any]):
    file = serializers.FileField(
        allow_empty_file=True, help_text="Green Button XML or CSV; told by its contents."
    )
    unit = serializers.ChoiceField(
        list(SCALES), required=False, help_text="Only where the file does not say it."
    )
    channel = serializers.IntegerField(
        required=False, min_value=1, max_value=999, help_text="Another than the one chosen."
    )


class MeterProfile(serializers.Serializer[Any]):
    """A typical year; `powers` is null where no file on record gives one."""

    powers = serializers.ListField(
        child=serializers.FloatField(),
        allow_null=True,
        help_text="W for each of 35,040 quarter hours from 1 January, local standard time.",
    )
    filled = serializers.IntegerField(help_text="Quarter hours that follow neighbouring days.")


class MeterFiles(Call):
    """The files of readings taken in at a site; take one in."""

    parser_classes = (MultiPartParser,)

    @extend_schema(
        operation_id="site_meter_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(MeterOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        return self.page_of(visible(queries.files_of(site), self.person), MeterOutput)

    @extend_schema(
        operation_id="site_meter_create",
        request={"multipart/form-data": MeterInput},
        responses={200: MeterOutput, 201: MeterOutput, 422: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        """All of the file or nothing; 200 when the same file is here already."""
        site, said = fetch(Site, self.person, pk=pk), self.said(MeterInput)
        file = said.pop("file")
        data, is_new = meter.take_in(
            site=site, file=file, name=file.name, by=self.person, now=timezone.now(), **said
        )
        return Response(MeterOutput(data).data, status=201 if is_new else 200)


class MeterYear(Call):
    @extend_schema(operation_id="site_meter_year", responses=MeterProfile)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        """The load of a typical year from the best file on record."""
        found = queries.profile_of(fetch(Site, self.person, pk=pk))
        powers, filled = (found.powers, found.filled) if found else (None, 0)
        return Response({"powers": powers, "filled": filled})


class MeterFile(Call):
    """One file's readings, in short. DELETE removes them for good."""

    @extend_schema(operation_id="meter_retrieve", responses=MeterOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        rows = MeterData.objects.defer("readings")
        return Response(MeterOutput(fetch(rows, self.person, pk=pk)).data)

    @extend_schema(operation_id="meter_destroy", request=None, responses={204: None})
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        meter.remove(data=fetch(MeterData, self.person, pk=pk), by=self.person)
        return Response(status=204)
