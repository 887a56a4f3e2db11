"""What does every page know: the firm, who is here, the way about, and the light?"""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from contractor import navigation, queries

LIGHT_COOKIE = "light"
LIGHTS = ("paper", "sun")


def light(request: HttpRequest) -> str:
    """`paper` follows the device's day and night; `sun` is for reading in full sunlight."""
    chosen = request.COOKIES.get(LIGHT_COOKIE, "")
    return chosen if chosen in LIGHTS else "paper"


def page(request: HttpRequest) -> dict[str, Any]:
    person = getattr(request, "user", None)
    role = getattr(person, "role", "")
    return {
        "firm": getattr(request, "firm", None) or SimpleLazyObject(queries.firm),
        "role": role,
        "nav": navigation.index(role, request.path),
        "thumb_nav": navigation.thumb(role, request.path),
        "light": light(request),
    }
