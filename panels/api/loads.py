"""The facts of a home and its loads, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.exceptions import ObjectDoesNotExist
from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Site
from contractor.services.saving import made_before
from panels.models import Circuit, Home, Load
from panels.rules.dwelling import Kind
from panels.rules.supply import SUPPLIES
from panels.services import load as services


class HomeFields(serializers.Serializer[Any]):
    floor_area_ft2 = serializers.FloatField()
    small_appliance_circuits = serializers.IntegerField(min_value=0)
    laundry_circuits = serializers.IntegerField(min_value=0)
    system = serializers.ChoiceField([system.value for system in SUPPLIES], required=False)
    service_a = serializers.IntegerField(required=False, allow_null=True)
    is_feeder = serializers.BooleanField(required=False)
    managed_a = serializers.FloatField(required=False, allow_null=True)
    bathrooms = serializers.IntegerField(min_value=0, max_value=40, required=False, allow_null=True)
    has_garage = serializers.BooleanField(required=False, allow_null=True)


class HomeInput(HomeFields):
    instead = serializers.BooleanField(
        required=False, help_text="The site is on record as a shop: it becomes a home instead."
    )


class HomeOutput(HomeFields):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    rev = serializers.IntegerField()


class LoadSaid(serializers.Serializer[Any]):
    """What a nameplate says, and what the code asks about it."""

    kind = serializers.ChoiceField([kind.value for kind in Kind])
    name = serializers.CharField(max_length=80, required=False, allow_blank=True)
    nameplate = serializers.FloatField(required=False, allow_null=True)
    unit = serializers.ChoiceField(Load.Unit.choices, required=False)
    volts = serializers.FloatField(required=False, allow_null=True)
    power_factor = serializers.FloatField(required=False, allow_null=True)
    count = serializers.IntegerField(required=False, min_value=1)
    leg = serializers.ChoiceField(["A", "B", "C"], required=False, allow_blank=True)
    motor = serializers.BooleanField(required=False)
    horsepower = serializers.FloatField(required=False, allow_null=True)
    starting_a = serializers.FloatField(required=False, allow_null=True)
    controlled_separately = serializers.BooleanField(required=False)
    locked_out = serializers.BooleanField(required=False)
    continuous = serializers.BooleanField(required=False)
    managed = serializers.BooleanField(required=False)
    new = serializers.BooleanField(required=False)
    one_of = serializers.CharField(
        max_length=20, required=False, allow_blank=True,
        help_text="Of loads with the same word here only the largest counts.",
    )  # fmt: skip
    phases = serializers.ChoiceField([1, 3], required=False)


class LoadFields(LoadSaid):
    circuit = serializers.PrimaryKeyRelatedField(
        queryset=Circuit.objects, required=False, allow_null=True
    )


class LoadInput(LoadFields):
    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")


class LoadOutput(LoadSaid):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    circuit = serializers.UUIDField(source="circuit_id", allow_null=True)
    rev = serializers.IntegerField()


class HomeView(Call):
    """The dwelling's facts; the first PUT records them, later ones name their base."""

    @extend_schema(operation_id="site_home_retrieve", responses=HomeOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        home = _home(fetch(Site, self.person, pk=pk))
        if home is None:
            raise Http404
        return with_etag(HomeOutput(home).data, home)

    @extend_schema(
        operation_id="site_home_update",
        parameters=[IF_MATCH],
        request=HomeInput,
        responses={200: HomeOutput, 201: HomeOutput, 409: ProblemSerializer},
    )
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        known = _home(site)
        rev = base_rev(request) if known else None
        said = self.said(HomeInput)
        home = services.record_home(site=site, by=self.person, rev=rev, **said)
        return with_etag(HomeOutput(home).data, home, status=200 if known else 201)


class LoadsView(Call):
    """The loads of a home; add one."""

    @extend_schema(
        operation_id="site_loads_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(LoadOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        rows = visible(Load.objects.filter(site=site), self.person)
        return ByKey.answer(request, rows, LoadOutput)

    @extend_schema(
        operation_id="site_loads_create",
        request=LoadInput,
        responses={200: LoadOutput, 201: LoadOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        said = self.said(LoadInput)
        key = said.pop("id", None)
        there = made_before(Load, key, {**said, "site": site}, but=("name",))
        if there is not None:
            return with_etag(LoadOutput(there).data, there)
        made = services.add_load(site=site, by=self.person, id=key, **said)
        return with_etag(LoadOutput(made).data, made, status=201)


class LoadView(Call):
    """One load."""

    @extend_schema(operation_id="loads_retrieve", responses=LoadOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        load = fetch(Load, self.person, pk=pk)
        return with_etag(LoadOutput(load).data, load)

    @extend_schema(
        operation_id="loads_partial_update",
        parameters=[IF_MATCH],
        request=LoadFields(partial=True),
        responses=LoadOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, load = base_rev(request), fetch(Load, self.person, pk=pk)
        said = self.said(LoadFields, partial=True)
        changed = services.change_load(load=load, by=self.person, rev=rev, **said)
        return with_etag(LoadOutput(changed).data, changed)

    @extend_schema(
        operation_id="loads_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, load = base_rev(request), fetch(Load, self.person, pk=pk)
        services.remove_load(load=load, by=self.person, rev=rev)
        return Response(status=204)


def _home(site: Site) -> Home | None:
    try:
        return site.home
    except ObjectDoesNotExist:
        return None
