"""Is the installation well: database, broker, and the clock that nothing may wait for in vain?"""

import time
from collections.abc import Callable

from django.core.cache import cache
from django.db import connection
from django.http import HttpRequest, JsonResponse
from django.http.response import HttpResponseBase
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from contractor.celery import app

SWEEP = "sweep"
SWEEP_MAY_BE_OLD_SECONDS = 300
_FOREVER = None


def heartbeat(name: str) -> None:
    """Note that something that must happen again and again has just happened."""
    cache.set(f"heartbeat:{name}", time.time(), timeout=_FOREVER)


def age(name: str) -> float | None:
    """Return the seconds since the last heartbeat of a name, None if there never was one."""
    beat = cache.get(f"heartbeat:{name}")
    return None if beat is None else max(0.0, time.time() - beat)


class Healthz:
    """Answers /healthz: 200 when all is well, 503 when something needs a person.

    It stands before every other middleware, so that it answers without a database, to a probe
    that knows no host name, and over plain HTTP.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return report(request) if request.path == "/healthz" else self.get_response(request)


@never_cache
@require_safe
def report(_request: HttpRequest) -> JsonResponse:
    """Say of each part that it is "ok", or what is wrong with it."""
    said = {"database": _said(_database), "broker": _said(_broker), "sweep": _said(_sweep)}
    well = all(words == "ok" for words in said.values())
    return JsonResponse(said, status=200 if well else 503)


def _said(check: Callable[[], str]) -> str:
    try:
        return check()
    except Exception as trouble:  # whatever it is, the answer must still be given
        return type(trouble).__name__


def _database() -> str:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return "ok"


def _broker() -> str:
    with app.connection_for_write(connect_timeout=2) as broker:
        broker.ensure_connection(max_retries=1, timeout=2)
    return "ok"


def _sweep() -> str:
    seconds = age(SWEEP)
    if seconds is None:
        return "none yet"
    return "ok" if seconds <= SWEEP_MAY_BE_OLD_SECONDS else f"{seconds:.0f} seconds ago"
