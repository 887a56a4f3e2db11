"""Mark a page as one that a customer opens by link instead of signing in."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import add_never_cache_headers

from contractor.access import View, open_to_all
from contractor.errors import Refused
from contractor.guesses import Guesses
from contractor.models import CustomerLink
from contractor.services.links import open_link

WRONG_LINKS = Guesses("wrong-links", limit=30, minutes=10)


def by_link(*purposes: CustomerLink.Purpose) -> Callable[[View], View]:
    """The view gets the link for the token in its address: `view(request, link, ...)`.

    Whatever is wrong with the token, the reader sees one page that says whom to ask; too many
    wrong ones from one address and the address has to wait.
    """

    def mark(view: View) -> View:
        @open_to_all
        @wraps(view)
        def opened(request: HttpRequest, token: str, **kwargs: Any) -> HttpResponseBase:
            answer: HttpResponseBase
            try:
                link = _open(request, token, purposes)
            except Refused as refusal:
                context = {"refusal": refusal}
                answer = render(
                    request, "contractor/link_no_good.html", context, status=refusal.status
                )
            else:
                answer = view(request, link, **kwargs)
            return _kept_private(answer)

        opened.by_link = purposes  # type: ignore[attr-defined]
        return opened

    return mark


def _open(
    request: HttpRequest, token: str, purposes: tuple[CustomerLink.Purpose, ...]
) -> CustomerLink:
    address = request.META.get("REMOTE_ADDR", "")
    WRONG_LINKS.check(address)
    try:
        return open_link(token=token, purposes=purposes, now=timezone.now())
    except Refused:
        WRONG_LINKS.count(address)
        raise


def _kept_private(answer: HttpResponseBase) -> HttpResponseBase:
    """The address is the key: it goes into no cache, no search engine and no other site's log."""
    add_never_cache_headers(answer)
    answer.headers["Referrer-Policy"] = "no-referrer"
    answer.headers["X-Robots-Tag"] = "noindex, nofollow"
    return answer
