"""Sources of a site, over the API."""

from __future__ import annotations

import uuid
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from contractor.access import Right, fetch, visible
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.rights import HasRight
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Site
from contractor.services.saving import made_before
from panels.api.asked import named, person, said
from panels.api.shapes import SourceFields, SourceInput, SourceOutput
from panels.models import Circuit, Source
from panels.services import sources


class SourcesView(APIView):
    """Storage, solar, generators and vehicle supply of a site; add one."""

    permission_classes = (HasRight,)
    right = Right.FIELD

    @extend_schema(
        operation_id="site_sources_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(SourceOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, request.user, pk=pk)
        rows = visible(Source.objects.filter(site=site), person(request))
        return ByKey.answer(request, rows, SourceOutput)

    @extend_schema(
        operation_id="site_sources_create",
        request=SourceInput,
        responses={200: SourceOutput, 201: SourceOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site, request.user, pk=pk)
        asked = _connected(said(SourceInput, request), request)
        key = asked.pop("id", None)
        there = made_before(Source, key, {**asked, "site": site})
        if there is not None:
            return with_etag(SourceOutput(there).data, there)
        made = sources.add_source(site=site, by=person(request), id=key, **asked)
        return with_etag(SourceOutput(made).data, made, status=201)


class SourceView(APIView):
    """One source."""

    permission_classes = (HasRight,)
    right = Right.FIELD

    @extend_schema(operation_id="sources_retrieve", responses=SourceOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(Source, request.user, pk=pk)
        return with_etag(SourceOutput(found).data, found)

    @extend_schema(
        operation_id="sources_partial_update",
        parameters=[IF_MATCH],
        request=SourceFields(partial=True),
        responses=SourceOutput,
    )
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Source, request.user, pk=pk)
        asked = _connected(said(SourceFields, request, partial=True), request)
        changed = sources.change_source(source=found, by=person(request), rev=rev, **asked)
        return with_etag(SourceOutput(changed).data, changed)

    @extend_schema(
        operation_id="sources_destroy", parameters=[IF_MATCH], request=None, responses={204: None}
    )
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        rev, found = base_rev(request), fetch(Source, request.user, pk=pk)
        sources.remove_source(source=found, by=person(request), rev=rev)
        return Response(status=204)


def _connected(asked: dict[str, Any], request: Request) -> dict[str, Any]:
    """The circuit it names, as the row."""
    if "circuit_id" in asked:
        key = asked.pop("circuit_id")
        asked["circuit"] = named(Circuit, key, request, field="circuit")
    return asked
