"""Where does each role's day begin?"""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect

from contractor.access import Right, SignedIn, needs
from contractor.models import Customer, Role

BEGINS: dict[str, str] = {Role.OWNER: "watch", Role.COORDINATOR: "week", Role.TECHNICIAN: "day"}


@needs(Right.SIGNED_IN)
def home(request: SignedIn) -> HttpResponse:
    if request.user.is_office and not Customer.objects.exists():
        return redirect("start")
    return redirect(BEGINS[request.user.role])
