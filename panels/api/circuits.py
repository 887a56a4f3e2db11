"""Circuits, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call, named
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.errors import Invalid
from contractor.services.saving import made_before
from panels.api.shapes import CircuitFields, CircuitInput, CircuitOutput
from panels.models import Circuit, Panel
from panels.rules.places import place_of
from panels.services import circuits

CIRCUITS = Circuit.objects.select_related("panel", "feeds")


class CircuitsView(Call):
    """The circuits of a panel; put one in."""

    @extend_schema(
        operation_id="panel_circuits_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(CircuitOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        panel = fetch(Panel, self.person, pk=pk)
        rows = visible(CIRCUITS.filter(panel=panel), self.person)
        return ByKey.answer(request, rows, CircuitOutput)

    @extend_schema(
        operation_id="panel_circuits_create",
        request=CircuitInput,
        responses={200: CircuitOutput, 201: CircuitOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        panel = fetch(Panel, self.person, pk=pk)
        asked = _placed(self.said(CircuitInput), panel)
        if "space" not in asked:
            told = _("Say where it sits: space, or spaces.")
            raise Invalid("no_space", told, fields={"space": told})
        key, feeds = asked.pop("id", None), asked.pop("feeds", None)
        there = made_before(Circuit, key, {**asked, "panel": panel}, but=("slots", "name"))
        if there is not None:
            return with_etag(CircuitOutput(there).data, there)
        fed = named(Panel, feeds, self.person, field="feeds")
        made = circuits.put_breaker(panel=panel, by=self.person, id=key, feeds=fed, **asked)
        return with_etag(CircuitOutput(made).data, made, status=201)


class CircuitView(Call):
    """One circuit. DELETE takes its breaker out."""

    @extend_schema(operation_id="circuits_retrieve", responses=CircuitOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(CIRCUITS, self.person, pk=pk)
        return with_etag(CircuitOutput(found).data, found)

    @extend_schema(
        operation_id="circuits_partial_update",
        parameters=[IF_MATCH],
        request=CircuitFields(partial=True),
        responses=CircuitOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(CIRCUITS, self.person, pk=pk)
        asked = _placed(self.said(CircuitFields, partial=True), found.panel)
        changed = circuits.change_circuit(circuit=found, by=self.person, rev=rev, **asked)
        return with_etag(CircuitOutput(changed).data, changed)

    @extend_schema(
        operation_id="circuits_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(CIRCUITS, self.person, pk=pk)
        circuits.remove_circuit(circuit=found, by=self.person, rev=rev)
        return Response(status=204)


def _placed(asked: dict[str, Any], panel: Panel) -> dict[str, Any]:
    """`spaces` as the first space and the poles; refused where no breaker takes exactly them."""
    spaces = asked.pop("spaces", None)
    if spaces is None:
        return asked
    place = place_of(panel.frame, spaces)
    return {**asked, "space": place.space, "poles": place.poles, "half": ""}
