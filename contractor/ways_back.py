"""Where does a press lead back to: the page it names, if that is one of ours?"""

from __future__ import annotations

from django.http import HttpRequest
from django.utils.http import url_has_allowed_host_and_scheme


def ours(request: HttpRequest, address: str, usual: str) -> str:
    """The address when it is one of this program's pages, else the usual one.

    A word without a slash is no address, and `redirect` would look for a page of that name.
    """
    safe = url_has_allowed_host_and_scheme(address, {request.get_host()}, request.is_secure())
    return address if safe and "/" in address else usual


def back_to(request: HttpRequest, usual: str) -> str:
    """The page named by `next`, in the form or in the address."""
    return ours(request, request.POST.get("next") or request.GET.get("next") or "", usual)


def came_from(request: HttpRequest, usual: str) -> str:
    """The page whose button was pressed."""
    return ours(request, request.headers.get("Referer", ""), usual)
