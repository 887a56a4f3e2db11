"""How the API says no: problem details (RFC 9457) for every refusal and every bad request."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import exception_handler

from contractor.errors import Refused, Several, Stale
from contractor.guesses import TooMany

PROBLEM = "application/problem+json"


def answer(error: Exception, context: dict[str, Any]) -> Response | None:
    """Turn an exception into a problem document; None lets a real fault be a 500."""
    if isinstance(error, Refused):
        headers = {"Retry-After": str(error.wait_seconds)} if isinstance(error, TooMany) else None
        return Response(_refusal(error), status=error.status, content_type=PROBLEM, headers=headers)
    response = exception_handler(error, context)
    if response is None:
        return None
    code = "invalid"
    fields: Any = {}
    sentence = ""
    if isinstance(error, exceptions.ValidationError) and isinstance(response.data, dict):
        fields = response.data
        sentence = _("Some fields cannot be used as they stand; see fields.")
    elif isinstance(error, exceptions.ValidationError):
        sentence = " ".join(map(str, response.data))
    elif isinstance(response.data, dict):
        detail = response.data.get("detail", "")
        code, sentence = getattr(detail, "code", "error"), str(detail)
    response.data = _problem(response.status_code, code, sentence, fields)
    response.content_type = PROBLEM
    return response


def _problem(status: int, code: str, sentence: str, fields: Any) -> dict[str, Any]:
    return {"status": status, "code": code, "detail": sentence, "fields": fields}


def _refusal(error: Refused) -> dict[str, Any]:
    told = _problem(error.status, error.code, error.sentence, error.fields)
    told["can_override"] = error.can_override
    if isinstance(error, Stale):
        told["current_rev"] = error.current_rev
    if isinstance(error, Several):
        told["reasons"] = [
            {"code": reason.code, "detail": reason.sentence, "can_override": reason.can_override}
            for reason in error.reasons
        ]
    return told
