"""Customers, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import OfficeCall
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Customer
from contractor.queries.customers import customers
from contractor.services import customers as services
from contractor.services.saving import made_before

SEARCH = OpenApiParameter("q", description="Part of a name, street, phone number or e-mail.")


class CustomerFields(serializers.Serializer[Any]):
    """What may be written. Unknown fields are ignored, read-only ones too."""

    name = serializers.CharField(max_length=120)
    phone = serializers.CharField(max_length=40, required=False, allow_blank=True)
    email = serializers.CharField(max_length=254, required=False, allow_blank=True)
    street = serializers.CharField(max_length=120, required=False, allow_blank=True)
    city = serializers.CharField(max_length=80, required=False, allow_blank=True)
    state = serializers.CharField(max_length=2, required=False, allow_blank=True)
    zip = serializers.CharField(max_length=10, required=False, allow_blank=True)
    notes = serializers.CharField(max_length=4000, required=False, allow_blank=True)
    list_key = serializers.CharField(
        max_length=60, required=False, allow_blank=True, allow_null=True
    )


class CustomerInput(CustomerFields):
    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")


class CustomerOutput(CustomerFields):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()
    created_at = serializers.DateTimeField()


class CustomersView(OfficeCall):
    """Every customer this person may see; add one."""

    @extend_schema(
        operation_id="customers_list",
        parameters=[SEARCH, *ByKey.parameters()],
        responses=ByKey.page_of(CustomerOutput),
    )
    def get(self, request: Request) -> Response:
        rows = visible(customers(request.query_params.get("q", "")[:100]), self.person)
        return self.page_of(rows, CustomerOutput)

    @extend_schema(
        operation_id="customers_create",
        request=CustomerInput,
        responses={200: CustomerOutput, 201: CustomerOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request) -> Response:
        values = self.said(CustomerInput)
        key = values.pop("id", None)
        there = made_before(Customer, key, services.checked(values))
        if there is not None:
            return with_etag(CustomerOutput(there).data, there)
        added = services.add_customer(values=values, by=self.person, now=timezone.now(), id=key)
        return with_etag(CustomerOutput(added).data, added, status=201)


class CustomerView(OfficeCall):
    """One customer."""

    @extend_schema(operation_id="customers_retrieve", responses=CustomerOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(Customer, self.person, pk=pk)
        return with_etag(CustomerOutput(found).data, found)

    @extend_schema(
        operation_id="customers_partial_update",
        parameters=[IF_MATCH],
        request=CustomerFields(partial=True),
        responses=CustomerOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Customer, self.person, pk=pk)
        values = self.said(CustomerFields, partial=True)
        changed = services.change_customer(customer=found, values=values, by=self.person, rev=rev)
        return with_etag(CustomerOutput(changed).data, changed)

    @extend_schema(
        operation_id="customers_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Customer, self.person, pk=pk)
        services.remove_customer(customer=found, by=self.person, rev=rev)
        return Response(status=204)
