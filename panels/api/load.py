"""Load calculations over the API: worked through without being kept, or kept for a site."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call
from contractor.api.pages import ByKey
from contractor.api.schema import ProblemSerializer
from contractor.errors import Refused
from contractor.models import Site
from panels.editions import EDITIONS, edition
from panels.models import Calculation
from panels.rules.methods import METHODS
from panels.rules.questions import QUESTIONS, answer
from panels.rules.shop import method as shop
from panels.rules.working import to_plain
from panels.services import calculations
from panels.starters import starter

HOME_OR_SHOP = [*METHODS, shop.KEY]  # methods a site's own record can be calculated by

FIRST = [
    OpenApiExample(
        key,
        summary=asked.title,
        request_only=True,
        value={"method": key, "edition": starter(key).edition, "inputs": starter(key).inputs},
    )
    for key, asked in QUESTIONS.items()
]


class PreviewInput(serializers.Serializer[Any]):
    method = serializers.ChoiceField(list(QUESTIONS))
    edition = serializers.ChoiceField(list(EDITIONS))
    inputs = serializers.DictField(
        help_text="What the method asks for: a dwelling, a building of several with `units`, a "
        "conductor, a tree of panels. Quantities carry their unit, as text or as {value, unit}; "
        "a bare number is refused, and a field that is not asked for is named."
    )


class LineOutput(serializers.Serializer[Any]):
    key = serializers.CharField(help_text="Stable, so two results can be compared.")
    label = serializers.CharField()  # type: ignore[assignment]
    value = serializers.JSONField(help_text="{value, unit}, a number without a unit, or words.")
    shown = serializers.CharField()
    how = serializers.CharField()
    cite = serializers.CharField()
    note = serializers.CharField()
    confirm = serializers.CharField(help_text="Not empty: check it in the printed code.")
    total = serializers.BooleanField()


class SectionOutput(serializers.Serializer[Any]):
    title = serializers.CharField()
    lines = LineOutput(many=True)


class ResultOutput(serializers.Serializer[Any]):
    method = serializers.CharField()
    method_title = serializers.CharField()
    edition = serializers.CharField()
    edition_title = serializers.CharField()
    basis = serializers.CharField()
    sections = SectionOutput(many=True)
    cautions = serializers.ListField(child=serializers.CharField())
    amendments = serializers.ListField(child=serializers.CharField())


class CalculationInput(serializers.Serializer[Any]):
    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")
    method = serializers.ChoiceField(HOME_OR_SHOP)
    on = serializers.DateField(required=False, help_text="Whose edition counts; else today.")
    edition = serializers.ChoiceField(
        list(EDITIONS), required=False, help_text="Only where it is not as adopted there."
    )
    stated_by = serializers.CharField(
        max_length=200, required=False, help_text="Who stated that edition; needed with one."
    )
    purpose = serializers.CharField(max_length=200, required=False, allow_blank=True)


class CalculationOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    method = serializers.CharField()
    edition = serializers.CharField()
    edition_by = serializers.CharField()
    jurisdiction = serializers.CharField()
    on = serializers.DateField()
    purpose = serializers.CharField()
    total_va = serializers.FloatField()
    amps = serializers.FloatField()
    inputs = serializers.DictField()
    result = ResultOutput()
    made_by = serializers.UUIDField(source="made_by_id")
    made_at = serializers.DateTimeField()
    software = serializers.CharField()


class PreviewView(Call):
    """Work a description through by one method and edition; nothing is kept."""

    @extend_schema(
        operation_id="calculations_preview",
        request=PreviewInput,
        responses={200: ResultOutput, 422: ProblemSerializer},
        examples=FIRST,
    )
    def post(self, request: Request) -> Response:
        said = self.said(PreviewInput)
        result = answer(said["method"], said["inputs"], edition(said["edition"]))
        return Response(to_plain(result))


class CalculationsView(Call):
    """The calculations kept for a site; keep one of the home as it is on record."""

    @extend_schema(
        operation_id="site_calculations_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(CalculationOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        rows = visible(Calculation.objects.filter(site=site), self.person)
        return ByKey.answer(request, rows, CalculationOutput)

    @extend_schema(
        operation_id="site_calculations_create",
        request=CalculationInput,
        responses={200: CalculationOutput, 201: CalculationOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site.objects.select_related("authority"), self.person, pk=pk)
        said = self.said(CalculationInput)
        if there := _made_before(site, said):
            return Response(CalculationOutput(there).data)
        made = calculations.calculate(site=site, by=self.person, now=timezone.now(), **said)
        return Response(CalculationOutput(made).data, status=201)


class CalculationView(Call):
    """One calculation as it was kept. It is never altered."""

    @extend_schema(operation_id="calculations_retrieve", responses=CalculationOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        return Response(CalculationOutput(fetch(Calculation, self.person, pk=pk)).data)


def _made_before(site: Site, said: dict[str, Any]) -> Calculation | None:
    """What an earlier sending of the same request made; refused where the id is another's."""
    key: uuid.UUID | None = said.get("id")
    found = Calculation.objects.filter(pk=key).first() if key else None
    if found is None:
        return None
    same = found.site_id == site.pk and found.method == said["method"]
    if not same or said.get("on", found.on) != found.on:
        raise Refused("id_taken", _("A record with this id exists and holds something else."))
    return found
