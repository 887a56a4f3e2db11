"""A device signs in once, with a person's password, and gets a token of its own."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.throttling import ScopedRateThrottle
from rest_framework.views import APIView

from contractor import queries
from contractor.api.schema import ProblemSerializer
from contractor.errors import Refused
from contractor.models import Device, Person
from contractor.services import accounts, second_factor
from contractor.sign_in import address, forgive, recognise


class NotRecognised(Refused):
    """Nobody here signs in like this (RFC 9110, 15.5.2)."""

    status = 401


class TokenInput(serializers.Serializer[Any]):
    email = serializers.CharField(max_length=254)
    password = serializers.CharField(max_length=256, trim_whitespace=False)
    code = serializers.CharField(
        max_length=20, required=False, help_text="Needed when the person has set one up."
    )
    device = serializers.CharField(max_length=60, help_text="The name people know it by.")


class TokenOutput(serializers.Serializer[Any]):
    token = serializers.CharField(help_text="Shown this once.")
    device = serializers.CharField()
    expires_at = serializers.DateTimeField(allow_null=True)


class TokenView(APIView):
    """Sign a device in."""

    authentication_classes = ()
    permission_classes = (AllowAny,)
    throttle_classes = (ScopedRateThrottle,)
    throttle_scope = "token"

    @extend_schema(
        operation_id="token_create",
        request=TokenInput,
        responses={201: TokenOutput, 401: ProblemSerializer, 429: ProblemSerializer},
        auth=[],
    )
    def post(self, request: Request) -> Response:
        asked = TokenInput(data=request.data)
        asked.is_valid(raise_exception=True)
        person = _who(request, asked.validated_data)
        device, token = accounts.add_device(person=person, name=asked.validated_data["device"])
        told = {"token": token, "device": device.name, "expires_at": device.expiry}
        return Response(TokenOutput(told).data, status=201, headers={"Cache-Control": "no-store"})


def _who(request: Request, typed: dict[str, Any]) -> Person:
    """The person, by password and by code where one is set up."""
    client = request._request
    person = recognise(client, email=typed["email"], password=typed["password"])
    if person is None:
        raise NotRecognised("not_recognised", _("E-mail and password do not fit together."))
    if second_factor.is_on(person):
        if not typed.get("code"):
            raise NotRecognised("code_needed", _("Send the code from the phone as well."))
        second_factor.check(person=person, code=typed["code"])
    forgive(email=person.email, client=address(client))
    return person


class MeOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()
    email = serializers.EmailField()
    role = serializers.CharField()
    device = serializers.CharField(source="device.name", allow_null=True)
    firm = serializers.CharField()
    time_zone = serializers.CharField()


class MeView(APIView):
    """Who this device speaks for."""

    @extend_schema(operation_id="me_retrieve", responses=MeOutput)
    def get(self, request: Request) -> Response:
        firm = queries.firm()
        person: Any = request.user
        device = request.auth if isinstance(request.auth, Device) else None
        told = {
            "id": person.pk,
            "name": person.name,
            "email": person.email,
            "role": person.role,
            "device": device,
            "firm": firm.name if firm else "",
            "time_zone": firm.time_zone if firm else "UTC",
        }
        return Response(MeOutput(told).data)


class ThisDeviceView(APIView):
    """The device signs itself out."""

    @extend_schema(operation_id="token_destroy", request=None, responses={204: None})
    def delete(self, request: Request) -> Response:
        device: Any = request.auth
        accounts.revoke_device(person=device.user, token_key=device.token_key)
        return Response(status=204)
