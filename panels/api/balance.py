"""Leg balance of a panel, over the API: the proposal, and writing down that it was carried out."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch
from contractor.api.calls import Call
from contractor.api.schema import ProblemSerializer
from panels.api.load import ResultOutput
from panels.editions import EDITIONS
from panels.models import Panel
from panels.rules.balance.question import told_of
from panels.rules.working import to_plain
from panels.services import balancing
from panels.services.adoptions import basis_for
from panels.services.balancing import Moved


class MoveFields(serializers.Serializer[Any]):
    """A circuit at the revision it has, and the first space and half it is to have."""

    circuit = serializers.UUIDField()
    rev = serializers.IntegerField(min_value=1)
    space = serializers.IntegerField(min_value=1, max_value=84)
    half = serializers.ChoiceField(["", "a", "b"], required=False, default="")


class MovesInput(serializers.Serializer[Any]):
    moves = serializers.ListField(child=MoveFields(), min_length=1, max_length=168)


class MovesOutput(serializers.Serializer[Any]):
    """Sent back as they are, these take the moves back."""

    moves = MoveFields(many=True)


class AskedInput(serializers.Serializer[Any]):
    most_moves = serializers.IntegerField(
        required=False, min_value=0, max_value=99, help_text="No more moves than these."
    )
    edition = serializers.ChoiceField(
        list(EDITIONS), required=False, help_text="In place of the one adopted at the site."
    )


class BalanceOutput(MovesOutput):
    """The proposal with its working; `moves` is what a POST takes once they are made."""

    proven = serializers.BooleanField(
        help_text="No arrangement is more even, and none as even takes fewer moves."
    )
    result = ResultOutput()


class BalanceView(Call):
    """Where the breakers of a panel would leave its legs most alike."""

    @extend_schema(
        operation_id="panels_balance",
        parameters=[
            OpenApiParameter("most_moves", int, description="No more moves than these, 0 to 99."),
            OpenApiParameter("edition", str, enum=list(EDITIONS)),
        ],
        responses={200: BalanceOutput, 409: ProblemSerializer, 422: ProblemSerializer},
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        panel = fetch(Panel.objects.select_related("site__authority"), self.person, pk=pk)
        asked = AskedInput(data=request.query_params)
        asked.is_valid(raise_exception=True)
        said = asked.validated_data
        on = timezone.now().astimezone(panel.site.zone).date()
        basis = basis_for(site=panel.site, on=on, edition=said.get("edition"), stated_by="the call")
        found = balancing.proposed(panel=panel, most_moves=said.get("most_moves"))
        result = told_of(found.described, found.told, basis.edition)
        answer = {"moves": _plain(found.moves), "proven": found.told.proven}
        return Response(BalanceOutput(answer | {"result": to_plain(result)}).data)

    @extend_schema(
        operation_id="panels_balance_make",
        request=MovesInput,
        responses={200: MovesOutput, 409: ProblemSerializer, 422: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        """Write down that these moves were made: all of them or none."""
        panel = fetch(Panel, self.person, pk=pk)
        moves = [Moved(**one) for one in self.said(MovesInput)["moves"]]
        done = balancing.make_moves(panel=panel, moves=moves, by=self.person)
        return Response(MovesOutput({"moves": _plain(done)}).data)


def _plain(moves: list[Moved]) -> list[dict[str, Any]]:
    return [one._asdict() for one in moves]
