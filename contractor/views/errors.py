"""What a person sees when something is not there, not theirs, or broken."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from contractor.access import open_to_all


def _page(request: HttpRequest, status: int) -> HttpResponse:
    return render(request, f"{status}.html", status=status)


@open_to_all
def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    return _page(request, 400)


@open_to_all
def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    return _page(request, 403)


@open_to_all
def forgery(request: HttpRequest, reason: str = "") -> HttpResponse:
    return render(request, "403.html", {"stale_form": True}, status=403)


@open_to_all
def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    return _page(request, 404)


@open_to_all
def broken(request: HttpRequest) -> HttpResponse:
    return _page(request, 500)
