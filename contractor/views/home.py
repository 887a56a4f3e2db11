"""Where does each role's day begin?"""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import NoReverseMatch, reverse

from contractor.access import Right, SignedIn, needs
from contractor.models import Customer, Role

BEGINS: dict[str, tuple[str, ...]] = {
    Role.OWNER: ("watch", "week", "customers"),
    Role.COORDINATOR: ("week", "customers"),
    Role.TECHNICIAN: ("day", "sites"),
}


@needs(Right.SIGNED_IN)
def home(request: SignedIn) -> HttpResponse:
    if request.user.is_office and not Customer.objects.exists():
        return redirect("start")
    return redirect(next(filter(None, map(_address, BEGINS[request.user.role]))))


def _address(name: str) -> str:
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""
