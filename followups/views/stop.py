"""No more check-ins: the link at the foot of the mail, and the mail program's own button."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import add_never_cache_headers
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from contractor.access import open_to_all
from followups.queries import outbox, timing
from followups.services import opting_out


# RFC 8058, 3.2: the mail program posts without cookies or sign-in and is answered directly,
# without a redirect. A GET changes nothing, since mail scanners follow links.
@open_to_all
@csrf_exempt
@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest, token: str) -> HttpResponse:
    message = opting_out.message_of(token)
    if message is None:
        raise Http404
    if request.method == "POST":
        if "again" in request.POST:
            opting_out.resume(message=message)
        else:
            opting_out.stop(message=message, now=timezone.now())
    address = outbox.current_address(message) or message.to
    context = {"address": _veiled(address), "stopped": timing.opted_out(address)}
    response = render(request, "followups/stop.html", context)
    add_never_cache_headers(response)
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    return response


def _veiled(address: str) -> str:
    """Enough for its owner to recognise: a link passed on tells no address."""
    name, _at, host = address.partition("@")
    return f"{name[:2]}…@{host}" if host else "…"
