"""Sites, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor import places
from contractor.access import fetch
from contractor.api.calls import OfficeCall
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Authority, Customer, Site, Utility
from contractor.queries.customers import sites
from contractor.services import sites as services
from contractor.services.saving import made_before

SEARCH = OpenApiParameter("q", description="Part of a street, town, customer or phone number.")
FILLED_IN = ("latitude", "longitude", "placed", "time_zone")


class SiteFields(serializers.Serializer[Any]):
    """What may be written; coordinates and time zone are filled in by ZIP code when left out."""

    label = serializers.CharField(  # type: ignore[assignment]  # the name of our column
        max_length=80, required=False, allow_blank=True
    )
    street = serializers.CharField(max_length=120)
    city = serializers.CharField(max_length=80)
    state = serializers.CharField(max_length=2)
    zip = serializers.CharField(max_length=10)
    latitude = serializers.FloatField(required=False, allow_null=True, min_value=-90, max_value=90)
    longitude = serializers.FloatField(
        required=False, allow_null=True, min_value=-180, max_value=180
    )
    time_zone = serializers.CharField(max_length=40, required=False)
    authority = serializers.PrimaryKeyRelatedField(
        queryset=Authority.objects, required=False, allow_null=True
    )
    utility = serializers.PrimaryKeyRelatedField(
        queryset=Utility.objects, required=False, allow_null=True
    )
    access_notes = serializers.CharField(max_length=4000, required=False, allow_blank=True)
    pet_notes = serializers.CharField(max_length=200, required=False, allow_blank=True)


class SiteInput(SiteFields):
    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")
    customer = serializers.PrimaryKeyRelatedField(queryset=Customer.objects)


class SiteOutput(SiteFields):
    id = serializers.UUIDField()
    customer = serializers.UUIDField(source="customer_id")
    placed = serializers.CharField(help_text="Where the coordinates are from: hand, list, zip.")
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()
    created_at = serializers.DateTimeField()
    doubts = serializers.SerializerMethodField(help_text="Worth a second look; nothing refused.")

    def get_doubts(self, site: Site) -> list[str]:
        return places.doubts(city=site.city, state=site.state, zip_code=site.zip)


class SitesView(OfficeCall):
    """Every site this person may see; add one."""

    @extend_schema(
        operation_id="sites_list",
        parameters=[SEARCH, *ByKey.parameters()],
        responses=ByKey.page_of(SiteOutput),
    )
    def get(self, request: Request) -> Response:
        rows = sites(self.person, request.query_params.get("q", "")[:100])
        return self.page_of(rows, SiteOutput)

    @extend_schema(
        operation_id="sites_create",
        request=SiteInput,
        responses={200: SiteOutput, 201: SiteOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request) -> Response:
        values = self.said(SiteInput)
        key = values.pop("id", None)
        there = made_before(Site, key, services.checked(Site(), values), but=FILLED_IN)
        if there is not None:
            return with_etag(SiteOutput(there).data, there)
        customer = values.pop("customer")
        added = services.add_site(
            customer=customer, values=values, by=self.person, now=timezone.now(), id=key
        )
        return with_etag(SiteOutput(added).data, added, status=201)


class SiteView(OfficeCall):
    """One site."""

    @extend_schema(operation_id="sites_retrieve", responses=SiteOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(Site, self.person, pk=pk)
        return with_etag(SiteOutput(found).data, found)

    @extend_schema(
        operation_id="sites_partial_update",
        parameters=[IF_MATCH],
        request=SiteFields(partial=True),
        responses=SiteOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Site, self.person, pk=pk)
        values = self.said(SiteFields, partial=True)
        changed = services.change_site(site=found, values=values, by=self.person, rev=rev)
        return with_etag(SiteOutput(changed).data, changed)

    @extend_schema(
        operation_id="sites_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Site, self.person, pk=pk)
        services.remove_site(site=found, by=self.person, rev=rev)
        return Response(status=204)
