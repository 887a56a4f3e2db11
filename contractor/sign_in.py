"""Is this who they say they are, and what is told when too many wrong passwords came?"""

from __future__ import annotations

import math
from typing import Any

from axes.models import AccessAttempt
from axes.utils import reset
from django.conf import settings
from django.contrib.auth import authenticate
from django.db import connection, transaction
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import ngettext

from contractor.guesses import Guesses
from contractor.models import Person

# Beyond the library's count per name and address: one address trying many names.
WRONG_SIGN_INS = Guesses("sign-ins", limit=60, minutes=15)
MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"


def address(request: HttpRequest) -> str:
    """The client's address as `ClientAddress` found it, never a header anyone may send."""
    return request.META.get("REMOTE_ADDR", "")


def recognise(request: HttpRequest, *, email: str, password: str) -> Person | None:
    """The person with this address and password, or None; the same words and time for a stranger.

    Tries for one name from one address wait for each other, so that a hundred at once are
    counted like a hundred in turn. Raises TooMany for an address that tries too many names.
    """
    name, client = email.strip().lower()[:254], address(request)
    WRONG_SIGN_INS.check(client)
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(
            "SELECT pg_advisory_xact_lock(hashtextextended(%s, 0))", [f"{client} {name}"]
        )
        person = authenticate(request, username=name, password=password)
    if person is None:
        WRONG_SIGN_INS.count(client)
        return None
    return person if isinstance(person, Person) else None


def forgive(*, email: str, client: str | None = None) -> None:
    """Wrong passwords so far are forgotten: the right one came, or a new one was set."""
    reset(username=email.lower(), ip=client)


def locked_out(
    request: HttpRequest, answer: HttpResponse | None, credentials: dict[str, Any] | None
) -> HttpResponse:
    """The answer to a name and address that are locked out, with how long to wait."""
    minutes = _minutes_left(request, (credentials or {}).get("username", ""))
    sentence = ngettext(
        "Too many wrong passwords. Try again in %s minute, or set a new password by mail.",
        "Too many wrong passwords. Try again in %s minutes, or set a new password by mail.",
        minutes,
    )
    told = sentence % minutes
    if request.path.startswith("/api/"):
        problem = {"status": 429, "code": "locked_out", "detail": told, "fields": {}}
        response: HttpResponse = JsonResponse(
            problem, status=429, content_type="application/problem+json"
        )
    else:
        response = render(request, "429.html", {"sentence": told}, status=429)
    response.headers["Retry-After"] = str(minutes * 60)
    return response


def _minutes_left(request: HttpRequest, name: str) -> int:
    attempts = AccessAttempt.objects.filter(username=name, ip_address=address(request))
    last = attempts.order_by("-attempt_time").values_list("attempt_time", flat=True).first()
    until = (last or timezone.now()) + settings.AXES_COOLOFF_TIME
    return max(1, math.ceil((until - timezone.now()).total_seconds() / 60))
