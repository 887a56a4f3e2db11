"""Sources of a site, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call, named
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Person, Site
from contractor.services.saving import made_before
from panels.api.shapes import SourceFields, SourceInput, SourceOutput
from panels.models import Circuit, Source
from panels.services import sources


class SourcesView(Call):
    """Storage, solar, generators and vehicle supply of a site; add one."""

    @extend_schema(
        operation_id="site_sources_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(SourceOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        rows = visible(Source.objects.filter(site=site), self.person)
        return ByKey.answer(request, rows, SourceOutput)

    @extend_schema(
        operation_id="site_sources_create",
        request=SourceInput,
        responses={200: SourceOutput, 201: SourceOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, self.person, pk=pk)
        asked = _connected(self.said(SourceInput), self.person)
        key = asked.pop("id", None)
        there = made_before(Source, key, {**asked, "site": site})
        if there is not None:
            return with_etag(SourceOutput(there).data, there)
        made = sources.add_source(site=site, by=self.person, id=key, **asked)
        return with_etag(SourceOutput(made).data, made, status=201)


class SourceView(Call):
    """One source."""

    @extend_schema(operation_id="sources_retrieve", responses=SourceOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(Source, self.person, pk=pk)
        return with_etag(SourceOutput(found).data, found)

    @extend_schema(
        operation_id="sources_partial_update",
        parameters=[IF_MATCH],
        request=SourceFields(partial=True),
        responses=SourceOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Source, self.person, pk=pk)
        asked = _connected(self.said(SourceFields, partial=True), self.person)
        changed = sources.change_source(source=found, by=self.person, rev=rev, **asked)
        return with_etag(SourceOutput(changed).data, changed)

    @extend_schema(
        operation_id="sources_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Source, self.person, pk=pk)
        sources.remove_source(source=found, by=self.person, rev=rev)
        return Response(status=204)


def _connected(asked: dict[str, Any], person: Person) -> dict[str, Any]:
    """The circuit it names, as the row."""
    if "circuit_id" in asked:
        key = asked.pop("circuit_id")
        asked["circuit"] = named(Circuit, key, person, field="circuit")
    return asked
