"""The facts of a small shop, and whether something proposed fits, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Site
from panels.api.load import ResultOutput
from panels.editions import EDITIONS
from panels.models import Shop
from panels.rules.shop.premises import Occupancy
from panels.rules.supply import ALL_SUPPLIES
from panels.rules.working import to_plain
from panels.services import calculations, fit
from panels.services import shop as services
from panels.services.adoptions import basis_for
from panels.services.days import day_for

EXAMPLE = OpenApiExample(
    "A vehicle supply",
    request_only=True,
    value={"addition": {"kind": "vehicle", "nameplate": "48 A", "volts": 240}},
)


class ShopFields(serializers.Serializer[Any]):
    occupancy = serializers.ChoiceField([one.value for one in Occupancy])
    floor_area_ft2 = serializers.FloatField()
    lighting_va = serializers.FloatField(required=False, allow_null=True)
    receptacles = serializers.IntegerField(required=False, min_value=0)
    show_window_ft = serializers.FloatField(required=False)
    track_ft = serializers.FloatField(required=False)
    signs = serializers.IntegerField(required=False, min_value=0)
    multioutlet_ft = serializers.FloatField(required=False)
    multioutlet_busy_ft = serializers.FloatField(required=False)
    system = serializers.ChoiceField([system.value for system in ALL_SUPPLIES], required=False)
    service_a = serializers.IntegerField(required=False, allow_null=True)
    is_feeder = serializers.BooleanField(required=False)
    managed_a = serializers.FloatField(required=False, allow_null=True)


class ShopInput(ShopFields):
    instead = serializers.BooleanField(
        required=False, help_text="The site is on record as a home: it becomes a shop instead."
    )


class ShopOutput(ShopFields):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    rev = serializers.IntegerField()


class FitInput(serializers.Serializer[Any]):
    addition = serializers.DictField(help_text="One load, as in a dwelling's `loads`.")
    rating = serializers.CharField(
        required=False, max_length=20, help_text="The service that is there, where not on record."
    )
    metered = serializers.DictField(
        required=False, help_text="As the question `metered` takes it, without service."
    )
    on = serializers.DateField(required=False, help_text="Whose edition counts; else today.")
    edition = serializers.ChoiceField(
        list(EDITIONS), required=False, help_text="Only where it is not as adopted there."
    )
    stated_by = serializers.CharField(max_length=200, required=False)


class ShopView(Call):
    """The shop's facts; the first PUT records them, later ones name their base."""

    @extend_schema(operation_id="site_shop_retrieve", responses=ShopOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        shop = _shop(fetch(Site, self.person, pk=pk))
        if shop is None:
            raise Http404
        return with_etag(ShopOutput(shop).data, shop)

    @extend_schema(
        operation_id="site_shop_update",
        parameters=[IF_MATCH],
        request=ShopInput,
        responses={200: ShopOutput, 201: ShopOutput, 409: ProblemSerializer},
    )
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        known = _shop(site)
        rev = base_rev(request) if known else None
        said = self.said(ShopInput)
        shop = services.record_shop(site=site, by=self.person, rev=rev, **said)
        return with_etag(ShopOutput(shop).data, shop, status=200 if known else 201)


class FitView(Call):
    """Will it fit, by every method, with the premises as they are on record; nothing is kept."""

    @extend_schema(
        operation_id="site_fit",
        request=FitInput,
        responses={200: ResultOutput, 409: ProblemSerializer, 422: ProblemSerializer},
        examples=[EXAMPLE],
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site.objects.select_related("authority"), self.person, pk=pk)
        said = self.said(FitInput)
        basis = basis_for(
            site=site,
            on=said.get("on") or day_for(site=site, now=timezone.now()).on,
            edition=said.get("edition"),
            stated_by=said.get("stated_by", ""),
        )
        premises = calculations.inputs_of(site)
        if "rating" in said:
            premises["service"]["rating"] = said["rating"]
        inputs = {"premises": premises, "addition": said["addition"]}
        if recording := said.get("metered") or fit.metered_at(site):
            inputs["metered"] = recording
        return Response(to_plain(fit.ask(inputs, basis)))


def _shop(site: Site) -> Shop | None:
    return Shop.objects.filter(site=site).first()
