"""What the utility's meter recorded: files taken in, what they show, and the load by them."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, may, needs
from contractor.forms import attempt as forms
from contractor.models import Site
from contractor.notices import say
from panels.forms.meter import MeteredForm, MeterFileForm
from panels.models import Calculation, MeterData
from panels.queries import meter as queries
from panels.rules.meter.judge import YEAR_DAYS
from panels.services import meter, metered
from panels.views.load import trail
from panels.views.meter_sheet import sheet_of
from panels.views.panels import ASK

SITES = Site.objects.select_related("authority")
DATA = MeterData.objects.select_related("site__authority", "taken_by")


@ASK
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    """The files taken in so far; a POST takes one more in."""
    site = fetch(SITES, request.user, pk=pk)
    form = MeterFileForm(request.POST or None, request.FILES or None)

    def save(said: dict[str, Any]) -> tuple[MeterData, bool]:
        file, by, now = said.pop("file"), request.user, timezone.now()
        return meter.take_in(site=site, file=file, name=file.name, by=by, now=now, **said)

    taken = forms.attempt(form, save)
    if taken is None:
        files = list(queries.files_of(site))
        here = trail(site, _("Meter"))
        return forms.page(request, "panels/meter.html", form, site=site, files=files, trail=here)
    data, is_new = taken
    say(request, _("Taken in.") if is_new else _("This file is here already; nothing was changed."))
    return redirect("meter-file", pk=data.pk)


@ASK
@needs(Right.FIELD)
def one(request: SignedIn, pk: UUID) -> HttpResponse:
    """One file: what was found, its year, and what fits; a POST works it out or keeps it."""
    data = fetch(DATA, request.user, pk=pk)
    form = MeteredForm(request.POST or None, data_of=data, year=YEAR_DAYS)
    keeping = request.POST.get("do") == "keep"

    def work(said: dict[str, Any]) -> Calculation | metered.Answer:
        if keeping:
            return metered.keep(data=data, said=said, by=request.user, now=timezone.now())
        return metered.work_out(data=data, said=said, now=timezone.now())

    made = forms.attempt(form, work)
    if isinstance(made, Calculation):
        say(request, _("Kept as it is. It can be printed, and is never altered."))
        return redirect("calculation", pk=made.pk)
    context = {
        "data": data,
        "site": data.site,
        "sheet": sheet_of(data),
        "answer": made,
        "may_adopt": may(request.user, Right.OFFICE),
        "trail": _trail(data),
    }
    return forms.page(request, "panels/meter_file.html", form, **context)


@ASK
@needs(Right.FIELD)
def remove(request: SignedIn, pk: UUID) -> HttpResponse:
    data = fetch(DATA.defer("readings"), request.user, pk=pk)
    back = reverse("meter-file", args=[data.pk])
    if request.method == "POST":
        meter.remove(data=data, by=request.user)
        say(request, _("The readings of %(file)s are removed.") % {"file": data})
        return redirect("meter", pk=data.site_id)
    context = {
        "what": _("Remove these readings?"),
        "lines": [
            str(data),
            _("Calculations kept from them stay as they are. To have them back, take the file in"
              " again."),
        ],
        "action": _("Remove them"),
        "back": back,
        "is_danger": True,
        "where": str(data.site),
    }  # fmt: skip
    return render(request, "contractor/confirm.html", context)


def _trail(data: MeterData) -> list[tuple[str, str]]:
    above = trail(data.site, _("Meter"))
    return [*above[:-1], (_("Meter"), reverse("meter", args=[data.site_id])), (str(data), "")]
