"""The service entrance of a site, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH
from contractor.models import Site
from panels.models import ServiceEntrance
from panels.models.choices import Material, Occupancy, Raceway
from panels.services import entrance as services


class EntranceFields(serializers.Serializer[Any]):
    """What may be written of a service entrance; what is left out stays as it is."""

    occupancy = serializers.ChoiceField(Occupancy.choices, required=False, allow_blank=True)
    available_ka = serializers.FloatField(
        required=False, allow_null=True, help_text="The utility's figure; `stated_by` with it."
    )
    available_xr = serializers.FloatField(required=False, allow_null=True)
    stated_by = serializers.CharField(max_length=120, required=False, allow_blank=True)
    stated_on = serializers.DateField(required=False, allow_null=True)
    transformer_kva = serializers.FloatField(required=False, allow_null=True)
    transformer_z_percent = serializers.FloatField(required=False, allow_null=True)
    transformer_xr = serializers.FloatField(required=False, allow_null=True)
    wire_size = serializers.CharField(max_length=6, required=False, allow_blank=True)
    wire_material = serializers.ChoiceField(Material.choices, required=False, allow_blank=True)
    raceway = serializers.ChoiceField(Raceway.choices, required=False, allow_blank=True)
    wire_sets = serializers.IntegerField(min_value=1, max_value=12, required=False)
    length_ft = serializers.FloatField(required=False, allow_null=True)
    grounding_size = serializers.CharField(max_length=6, required=False, allow_blank=True)
    grounding_material = serializers.ChoiceField(Material.choices, required=False, allow_blank=True)
    disconnect_outdoors = serializers.BooleanField(required=False, allow_null=True)
    disconnect_marked = serializers.BooleanField(required=False, allow_null=True)
    disconnect_ka = serializers.FloatField(required=False, allow_null=True)


class EntranceOutput(EntranceFields):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()


class EntranceView(Call):
    """Where the power comes in; the first PUT records it, later ones name their base."""

    @extend_schema(operation_id="site_service_entrance_retrieve", responses=EntranceOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = _entrance(fetch(Site, self.person, pk=pk))
        if found is None:
            raise Http404
        return with_etag(EntranceOutput(found).data, found)

    @extend_schema(
        operation_id="site_service_entrance_update",
        parameters=[IF_MATCH],
        request=EntranceFields,
        responses={200: EntranceOutput, 201: EntranceOutput},
    )
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        known = _entrance(site)
        rev = base_rev(request) if known else None
        said = self.said(EntranceFields)
        made = services.record_entrance(site=site, by=self.person, rev=rev, **said)
        return with_etag(EntranceOutput(made).data, made, status=200 if known else 201)


def _entrance(site: Site) -> ServiceEntrance | None:
    return ServiceEntrance.objects.filter(site=site).first()
