"""What the firm lets its office insist on, and how apprentices are supervised where."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt
from contractor.forms.attempt import page as form_page
from contractor.notices import say
from jobs import queries
from jobs.forms.kinds import SupervisionForm
from jobs.models import SupervisionRule
from jobs.planning.supervision import ONE_TO_ONE
from jobs.planning.words import NEVER, Code
from jobs.services import kinds as services
from jobs.views.filling import ask_first, blank


@needs(Right.FIRM)
def planning_rules(request: SignedIn) -> HttpResponse:
    if request.method == "POST":
        ticked = set(request.POST.getlist("allowed"))
        allowed = {code for code in Code if code.value in ticked and code not in NEVER}
        services.save_override_rules(allowed=allowed, by=request.user)
        say(request, _("The office may insist on what is ticked, with a reason."))
        return redirect("planning-rules")
    now_allowed = queries.may_override()
    page = {
        "codes": [(code, _(code.label), code in now_allowed) for code in Code if code not in NEVER],
        "never": [_(code.label) for code in Code if code in NEVER],
        "supervision": SupervisionRule.objects.all(),
        "common": ONE_TO_ONE,
    }
    return render(request, "jobs/rules.html", page)


@needs(Right.FIRM)
def supervision_new(request: SignedIn) -> HttpResponse:
    return _supervision(request, SupervisionRule())


@needs(Right.FIRM)
def supervision_change(request: SignedIn, pk: int) -> HttpResponse:
    return _supervision(request, fetch(SupervisionRule, request.user, pk=pk))


def _supervision(request: SignedIn, rule: SupervisionRule) -> HttpResponse:
    form = blank(request, SupervisionForm, instance=rule)
    if attempt(
        form, lambda _said: services.save_supervision_rule(rule=form.instance, by=request.user)
    ):
        say(request, _("The rule is kept."))
        return redirect("planning-rules")
    back, what = reverse("planning-rules"), _("Supervision of apprentices")
    way = [(_("Planning rules"), back), (what, "")]
    return form_page(request, "jobs/fill_in.html", form, what=what, back=back, trail=way)


@needs(Right.FIRM)
def supervision_remove(request: SignedIn, pk: int) -> HttpResponse:
    rule = fetch(SupervisionRule, request.user, pk=pk)
    if request.method == "POST":
        services.remove_supervision_rule(rule=rule, by=request.user)
        say(request, _("The rule is removed."))
        return redirect("planning-rules")
    what = _("Remove the rule for %(place)s?") % {"place": rule.state or _("anywhere else")}
    lines = [_("Visits planned from now on follow the rule for anywhere else, or the common one.")]
    return ask_first(request, what, lines=lines, back=reverse("planning-rules"))
