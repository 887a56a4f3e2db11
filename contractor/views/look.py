"""The look on one page (/look/, only while developing), and the switch for sunlight."""

from __future__ import annotations

from types import SimpleNamespace as Sample
from typing import Any

from django import forms
from django.conf import settings
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from contractor import context, notices, ways_back
from contractor.access import open_to_all
from contractor.forms_rendering import ClockInput, DayInput, PhotoInput, Segmented, Stepper, Ticks

YEAR = 365 * 24 * 3600


@open_to_all
@require_POST
def light(request: HttpRequest) -> HttpResponse:
    """Keep the chosen light on this device for a year and go back."""
    chosen = request.POST.get("light", "")
    answer = redirect(ways_back.back_to(request, "/"))
    if chosen in context.LIGHTS:
        answer.set_cookie(
            context.LIGHT_COOKIE,
            chosen,
            max_age=YEAR,
            samesite="Lax",
            httponly=True,
            secure=request.is_secure(),
        )
    return answer


@open_to_all
def look(request: HttpRequest) -> HttpResponse:
    if not settings.DEBUG:
        raise Http404
    if request.method == "POST":
        notices.say(request, "Visit moved to Tuesday 8:00.", undo=request.path)
        return redirect(request.path)
    return render(request, "contractor/look.html", samples())


class SampleForm(forms.Form):
    name = forms.CharField(help_text="As it should stand on the directory.", max_length=40)
    phone = forms.CharField(widget=forms.TextInput({"type": "tel"}))
    day = forms.DateField(widget=DayInput, required=False)
    hour = forms.TimeField(widget=ClockInput, required=False)
    poles = forms.ChoiceField(
        choices=[("1", "1-pole"), ("2", "2-pole"), ("3", "3-pole"), ("t", "Tandem")],
        widget=Segmented,
        initial="2",
    )
    spaces = forms.IntegerField(widget=Stepper, min_value=1, max_value=84, initial=42)
    needs = forms.MultipleChoiceField(
        choices=[("permit", "Permit issued"), ("utility", "Utility appointment")],
        widget=Ticks,
        required=False,
    )
    kind = forms.ChoiceField(choices=[("", "Choose"), ("sc", "Service change")])
    note = forms.CharField(widget=forms.Textarea({"rows": 3}), required=False)
    photo = forms.ImageField(widget=PhotoInput, required=False)
    backed_up = forms.BooleanField(
        required=False, label="Stays on when the utility fails", help_text="Shown to the customer."
    )


def samples() -> dict[str, Any]:
    """Values to look at; they play in the invented town of Harrow Mills, Ohio."""
    return {
        "sample_form": SampleForm(),
        "broken_form": SampleForm({"phone": "555", "poles": "9"}, prefix="broken"),
        "page": Paginator(range(412), 25).page(6),
        "steps": [
            Sample(name="Survey", aside="Oct 29, Okafor", mark="done"),
            Sample(name="Rough-in", aside="Nov 17, crew 2", mark="done"),
            Sample(name="Cut-over", aside="Nov 25, 8:00", mark="now"),
            Sample(name="Trim-out", aside="Dec 1, not promised", mark=""),
            Sample(name="Walk-through", aside="not planned", mark=""),
        ],
        "trail": [("Sites", "#"), ("118 Millrace Lane", "#"), ("Main panel", "")],
        "schedule": schedule(),
        "shop": Sample(caption="Panel LP-1, 208Y/120 V", legs=3, rows=shop_rows()),
        "cells": [("Sheet", "E-2"), ("Supply", "Utility, 200 A")],
    }


def breaker(name: str, amps: int | None = 20, **more: Any) -> Sample:
    kept = {"kind": "circuit", "poles": 1, "rows": 1, "halves": (), "aside": "", "url": "#"}
    return Sample(**{**kept, "name": name, "amps": amps, **more})


def row(number: int, leg: str, left: Sample | None, right: Sample | None) -> Sample:
    return Sample(left_no=number, right_no=number + 1, leg=leg, left=left, right=right)


def schedule() -> Sample:
    pair = {"poles": 2, "rows": 2}
    tandem = breaker(
        "",
        None,
        halves=[
            Sample(mark="a", name="Hall lights", amps=15, url="#"),
            Sample(mark="b", name="Bath fan", amps=15, url="#"),
        ],
    )
    rows = [
        row(1, "A", breaker("Range", 50, **pair), breaker("Water heater", 30, **pair)),
        row(3, "B", None, None),
        row(
            5,
            "A",
            breaker("Subpanel B, garage", 60, kind="feeder", **pair),
            breaker("Kitchen counter, left of sink", aside="GFCI at first outlet"),
        ),
        row(7, "B", None, breaker("Kitchen counter, island")),
        row(9, "A", tandem, breaker("Dishwasher")),
        row(11, "B", breaker("Bedrooms", 15, aside="AFCI"), breaker("Spare", 20, kind="spare")),
        row(
            13,
            "A",
            breaker("Laundry"),
            breaker("Space", None, kind="space", url="", is_picked=True),
        ),
        row(15, "B", breaker("Sump pump"), breaker("Space", None, kind="space", url="")),
    ]
    return Sample(caption="Main panel, first 16 of 42 spaces", legs=2, rows=rows)


def shop_rows() -> list[Sample]:
    three = {"poles": 3, "rows": 3}
    return [
        row(1, "A", breaker("Rooftop unit 1", 40, **three), breaker("Show window, east")),
        row(3, "B", None, breaker("Show window, west")),
        row(5, "C", None, breaker("Register and data")),
        row(7, "A", breaker("Sign", aside="time switch"), breaker("Spare", 20, kind="spare")),
    ]
