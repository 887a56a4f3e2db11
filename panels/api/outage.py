"""An outage at a site, worked out from its record, over the API."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call
from contractor.api.schema import ProblemSerializer
from contractor.models import Site
from panels.api.load import ResultOutput
from panels.editions import EDITIONS
from panels.queries.standby import record_of
from panels.rules import questions
from panels.rules.standby.answer import KEY
from panels.rules.standby.simulate import GENERATOR, STORAGE
from panels.rules.working import to_plain
from panels.services.adoptions import basis_for
from panels.services.standby import Asked, describe

NOT_KEPT = "–"
TYPICAL, METER = "typical", "meter"


class ClockField(serializers.DateTimeField):
    """A day and an hour by the site's own clock, or with an offset from UTC."""

    def enforce_timezone(self, value: dt.datetime) -> dt.datetime:
        return value


class OutageQuery(serializers.Serializer[Any]):
    """What stands in the address."""

    hours = serializers.IntegerField(
        min_value=1, max_value=168, default=72, help_text="How far to look ahead."
    )
    until = serializers.TimeField(required=False, help_text="Time of day to reach; else sunrise.")
    stages = serializers.IntegerField(
        min_value=0, max_value=32_767, default=0, help_text="Off at once: up to this shed order."
    )
    sources = serializers.ListField(
        child=serializers.UUIDField(), required=False, help_text="Else all that can feed."
    )
    let_go_percent = serializers.FloatField(
        min_value=0,
        max_value=100,
        required=False,
        help_text="At this charge further stages are let go; else none are.",
    )
    first = serializers.ChoiceField([STORAGE, GENERATOR], default=STORAGE)
    profile = serializers.ChoiceField([TYPICAL, METER], default=TYPICAL)
    edition = serializers.ChoiceField(
        list(EDITIONS), required=False, help_text="In place of the one adopted at the site."
    )

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        told = "By the site's own clock, e.g. 2026-01-15T18:00; else now."
        return super().get_fields() | {"from": ClockField(required=False, help_text=told)}


class OutageOutput(serializers.Serializer[Any]):
    """The description, ready for `calculations/preview`, and its answer."""

    inputs = serializers.DictField()
    result = ResultOutput()


class OutageView(Call):
    """How long what is backed up stays on; nothing is kept."""

    @extend_schema(
        operation_id="site_outage",
        parameters=[OutageQuery],
        responses={200: OutageOutput, 409: ProblemSerializer, 422: ProblemSerializer},
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        site = fetch(Site.objects.select_related("authority"), self.person, pk=pk)
        query = OutageQuery(data=request.query_params)
        query.is_valid(raise_exception=True)
        said = query.validated_data
        now = timezone.now().astimezone(site.zone)
        edition = said.get("edition")
        basis = basis_for(
            site=site, on=now.date(), edition=edition, stated_by=NOT_KEPT if edition else ""
        )
        standby = describe(site, record_of(site), asked(said, site, now))
        result = questions.answer(KEY, standby.inputs, basis.edition)
        return Response({"inputs": standby.inputs, "result": to_plain(result)})


def asked(said: Mapping[str, Any], site: Site, now: dt.datetime) -> Asked:
    """The outage of the query; a moment with an offset is put on the site's clock."""
    start: dt.datetime = said.get("from", now.replace(minute=0))
    if start.tzinfo is not None:
        start = start.astimezone(site.zone).replace(tzinfo=None)
    return Asked(
        start=start.replace(second=0, microsecond=0),
        hours=said["hours"],
        until=said.get("until"),
        shed=said["stages"],
        sources=tuple(said.get("sources", ())),
        let_go_percent=said.get("let_go_percent"),
        generator_first=said["first"] == GENERATOR,
        from_meter=said["profile"] == METER,
    )
