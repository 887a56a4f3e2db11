"""Panels, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call, named
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Person, Site
from contractor.services.saving import made_before
from panels.api.shapes import PanelFields, PanelInput, PanelOutput
from panels.models import Circuit, Panel
from panels.services import feeders, panels

PANELS = Panel.objects.select_related("fed_from")
SITE = OpenApiParameter("site", OpenApiTypes.UUID, description="Only the panels of this site.")
FED = ("fed_from_id", "fed_through_id")


class PanelsView(Call):
    """Every panel this person may see, retired ones too; add one."""

    @extend_schema(
        operation_id="panels_list",
        parameters=[SITE, *ByKey.parameters()],
        responses=ByKey.page_of(PanelOutput),
    )
    def get(self, request: Request) -> Response:
        rows = visible(PANELS, self.person)
        if "site" in request.query_params:
            rows = rows.filter(site=_uuid(request.query_params["site"]))
        return ByKey.answer(request, rows, PanelOutput)

    @extend_schema(
        operation_id="panels_create",
        request=PanelInput,
        responses={200: PanelOutput, 201: PanelOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request) -> Response:
        asked = self.said(PanelInput)
        key, fed = asked.pop("id", None), _fed(asked, self.person)
        asked["site"] = named(Site, asked.pop("site"), self.person, field="site")
        there = made_before(Panel, key, asked, but=("bus_a",))
        if there is not None:
            return with_etag(PanelOutput(there).data, there)
        made = panels.add_panel(by=self.person, id=key, **fed, **asked)
        return with_etag(PanelOutput(made).data, made, status=201)


class PanelView(Call):
    """One panel. DELETE retires it: the record stays."""

    @extend_schema(operation_id="panels_retrieve", responses=PanelOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(PANELS, self.person, pk=pk)
        return with_etag(PanelOutput(found).data, found)

    @extend_schema(
        operation_id="panels_partial_update",
        parameters=[IF_MATCH],
        request=PanelFields(partial=True),
        responses=PanelOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(PANELS, self.person, pk=pk)
        asked = self.said(PanelFields, partial=True)
        changes_feed, fed = bool(set(FED) & set(asked)), _fed(asked, self.person)
        by = self.person
        with transaction.atomic():
            found = panels.change_panel(panel=found, by=by, rev=rev, **asked)
            if changes_feed:
                found = feeders.feed_panel(panel=found, by=by, **fed)
        return with_etag(PanelOutput(found).data, found)

    @extend_schema(
        operation_id="panels_retire", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(PANELS, self.person, pk=pk)
        panels.retire_panel(panel=found, by=self.person, now=timezone.now(), rev=rev)
        return Response(status=204)


def _fed(asked: dict[str, Any], person: Person) -> dict[str, Any]:
    """What feeds it, taken out of what was asked, as the services take it."""
    circuit = named(Circuit, asked.pop("fed_from_id", None), person, field="fed_from")
    through = named(Panel, asked.pop("fed_through_id", None), person, field="fed_through")
    return {"circuit": circuit, "through": through}


def _uuid(text: str) -> uuid.UUID:
    try:
        return uuid.UUID(text)
    except ValueError as error:
        raise ValidationError({"site": [_("Give the site’s id.")]}) from error
