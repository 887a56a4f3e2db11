"""What happens around every request: whose address, which zone, and how refusals are told."""

from __future__ import annotations

import contextlib
import ipaddress
from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone, translation

from contractor import queries, ways_back
from contractor.errors import Refused
from contractor.models import Person

Answer = Callable[[HttpRequest], HttpResponse]


class ClientAddress:
    """The client's address, believed from X-Forwarded-For only behind trusted proxies."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        hops = settings.TRUSTED_PROXIES
        chain = [part.strip() for part in request.headers.get("X-Forwarded-For", "").split(",")]
        if hops and len(chain) >= hops:
            with contextlib.suppress(ValueError):  # not an address: keep the proxy's own
                request.META["REMOTE_ADDR"] = str(ipaddress.ip_address(chain[-hops]))
        return self.get_response(request)


class SignedInByDefault:
    """Every page asks for sign-in unless its view says it is open to all."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Any, args: Any, kwargs: Any
    ) -> HttpResponse | None:
        if getattr(view, "open_to_all", False) or request.path.startswith("/api/"):
            return None  # the API authenticates by device token, never by cookie
        if request.user.is_authenticated:
            return None
        if not Person.objects.exists():
            return redirect("begin")  # an empty firm: the first to come is its owner
        return redirect_to_login(request.get_full_path())


class FirmTimeAndFormats:
    """Dates, times and numbers as the firm writes them."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        firm = request.firm = queries.firm()  # type: ignore[attr-defined]  # pages read it again
        if firm is None:
            return self.get_response(request)
        with timezone.override(firm.zone), translation.override(firm.locale):
            return self.get_response(request)


class RefusalsInWords:
    """A refusal no form caught comes back to the page it came from, as a sentence."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        if not isinstance(error, Refused) or request.path.startswith("/api/"):
            return None
        back = ways_back.came_from(request, "")
        if request.method == "POST" and back:
            messages.error(request, error.sentence)
            return redirect(back)
        return render(request, "refused.html", {"refusal": error}, status=error.status)
