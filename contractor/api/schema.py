"""What the OpenAPI document says about every call: how it signs in, and how it says no."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext_lazy as _
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers

from contractor.api.errors import PROBLEM


class ReasonSerializer(serializers.Serializer[Any]):
    """One of several things in the way."""

    code = serializers.CharField()
    detail = serializers.CharField()
    can_override = serializers.BooleanField()


class ProblemSerializer(serializers.Serializer[Any]):
    """A refusal (RFC 9457): what is wrong, in a code for programs and a sentence for people."""

    status = serializers.IntegerField()
    code = serializers.CharField()
    detail = serializers.CharField()
    fields = serializers.DictField(required=False, help_text=_("Sentences by field of the input."))  # type: ignore[assignment]
    can_override = serializers.BooleanField(
        required=False, help_text=_("Send again with a reason and it is done all the same.")
    )
    current_rev = serializers.IntegerField(
        required=False, help_text=_("With 412: the revision the record is at now.")
    )
    reasons = ReasonSerializer(many=True, required=False)


class DeviceTokenScheme(OpenApiAuthenticationExtension):
    target_class = "contractor.api.devices.DeviceToken"
    name = "deviceToken"

    def get_security_definition(self, auto_schema: AutoSchema) -> dict[str, str]:
        return {
            "type": "apiKey",
            "in": "header",
            "name": "Authorization",
            "description": "`Token …`, from POST /api/v1/token or a person’s own account page.",
        }


IF_MATCH = OpenApiParameter(
    "If-Match",
    location=OpenApiParameter.HEADER,
    required=True,
    description='The ETag of the record this change is based on, such as `"3"`.',
)

# Every refusal a call may answer with, by the calls it can come from.
ALWAYS = {"400": "The request cannot be read.", "429": "Too many requests; Retry-After says when."}
SIGNED_IN = {
    "401": "No device token, or one that is over.",
    "403": "Not this person’s to do.",
}
WITH_A_ROW = {"404": "No such record, or none this person may see."}
WITH_A_BODY = {
    "415": "Only JSON, or a form with files, is read.",
    "409": "Refused as things stand; nothing was written.",
    "422": "What was sent cannot be used as it stands.",
}
WITH_A_BASE = {
    "412": "The record changed since the revision named in If-Match.",
    "428": "If-Match is missing.",
}
PROBLEM_CONTENT = {PROBLEM: {"schema": {"$ref": "#/components/schemas/Problem"}}}
WRITING = {"post", "put", "patch", "delete"}
EDITING = {"put", "patch", "delete"}


def describe_problems(result: dict[str, Any], **_kwargs: Any) -> dict[str, Any]:
    """Add the refusals every call shares, so that no answer of the API is undescribed."""
    for path, calls in result["paths"].items():
        for method, call in calls.items():
            if method in {"get", *WRITING}:
                for status, words in _refusals(path, method, call).items():
                    call["responses"].setdefault(status, {"description": words})
                for status, told in call["responses"].items():
                    if status.startswith("4"):
                        told["content"] = PROBLEM_CONTENT
    return result


def _refusals(path: str, method: str, call: dict[str, Any]) -> dict[str, str]:
    found = dict(ALWAYS)
    if call.get("security") and {} not in call["security"]:
        found |= SIGNED_IN
    if "{" in path:
        found |= WITH_A_ROW
    if method in WRITING:
        found |= WITH_A_BODY
    if method in EDITING and _names_a_base(call):
        found |= WITH_A_BASE
    return found


def _names_a_base(call: dict[str, Any]) -> bool:
    return any(parameter.get("name") == "If-Match" for parameter in call.get("parameters", []))
