"""Checking a panel's record, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call
from contractor.api.schema import ProblemSerializer
from panels.editions import EDITIONS
from panels.models import Panel
from panels.rules.check.outcome import Finding, Outcome
from panels.services.checks import checked
from panels.services.days import day_for

EDITION = OpenApiParameter(
    "edition", str, enum=list(EDITIONS), description="In place of the one adopted at the site."
)


class PlaceOutput(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(
        ["circuit", "panel", "home", "entrance", "source", "readings", "load"]
    )
    id = serializers.UUIDField()


class FindingOutput(serializers.Serializer[Any]):
    """One rule on one thing."""

    rule = serializers.CharField(help_text="Short name, e.g. GFCI.")
    key = serializers.CharField(help_text="Which part of the rule; stable.")
    title = serializers.CharField()
    outcome = serializers.ChoiceField([one.value for one in Outcome])
    label = serializers.SerializerMethodField(help_text="What was judged.")  # type: ignore[assignment]
    sentence = serializers.CharField()
    missing = serializers.ListField(
        child=serializers.CharField(), help_text="What is not recorded, where it cannot be told."
    )
    advice = serializers.CharField()
    cite = serializers.CharField()
    note = serializers.CharField()
    confirm = serializers.CharField(help_text="Not empty: check it in the printed code.")
    place = PlaceOutput(help_text="Where it is put right.")

    def get_label(self, finding: Finding) -> str:
        return finding.label


class CountsOutput(serializers.Serializer[Any]):
    """How many of each outcome; their names are taken as attributes of a serializer."""

    def get_fields(self) -> dict[str, Any]:
        return {outcome.value: serializers.IntegerField() for outcome in Outcome}


class CheckOutput(serializers.Serializer[Any]):
    panel = serializers.UUIDField()
    on = serializers.DateField()
    edition = serializers.CharField()
    edition_title = serializers.CharField()
    edition_by = serializers.CharField(help_text="Where the edition is known from.")
    jurisdiction = serializers.CharField()
    basis = serializers.CharField()
    counts = CountsOutput()
    findings = FindingOutput(many=True)
    cautions = serializers.ListField(child=serializers.CharField())
    amendments = serializers.ListField(child=serializers.CharField())


class CheckView(Call):
    """What the record of a panel comes to by every rule; nothing is kept."""

    @extend_schema(
        operation_id="panels_check",
        parameters=[EDITION],
        responses={200: CheckOutput, 422: ProblemSerializer},
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        panel = fetch(Panel.objects.select_related("site__authority"), self.person, pk=pk)
        on = day_for(site=panel.site, now=timezone.now()).on
        edition = request.query_params.get("edition")
        found = checked(site=panel.site, on=on, edition=edition, also=panel, alone=True)
        report = found.reports[panel.pk]
        told = {
            "panel": panel.pk,
            "on": on,
            "edition": report.edition,
            "edition_title": report.edition_title,
            "edition_by": found.basis.stated,
            "jurisdiction": found.basis.jurisdiction,
            "basis": report.basis,
            "counts": {outcome.value: count for outcome, count in report.counts.items()},
            "findings": report.findings,
            "cautions": report.cautions,
            "amendments": report.amendments,
        }
        return Response(CheckOutput(told).data)
