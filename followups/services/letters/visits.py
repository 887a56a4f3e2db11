"""What do we say about a visit: it is planned, it has moved, it is called off?"""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _

from contractor.models import Firm
from contractor.telephone import phone
from followups.queries.timing import Told
from followups.services.letters.paper import Letter, greeting, place, when
from jobs.models import Job, Visit

Facts = tuple[tuple[str, str], ...]


def confirmed(*, visit: Visit, told: Told, firm: Firm) -> Letter:
    site = visit.job.site
    at = when(told, site)
    return Letter(
        subject=_("Your electrician: %(when)s") % {"when": at},
        greeting=greeting(site.customer.name),
        lines=(_("We will be with you for this work:"),),
        facts=_facts(visit, at),
        after=_before_we_come(firm),
    )


def moved(*, visit: Visit, told: Told, instead_of: Told, firm: Firm) -> Letter:
    site = visit.job.site
    at = when(told, site)
    return Letter(
        subject=_("New time for your electrician: %(when)s") % {"when": at},
        greeting=greeting(site.customer.name),
        lines=(
            _("Our visit has moved. Instead of %(old)s we will come:")
            % {"old": when(instead_of, site)},
        ),
        facts=_facts(visit, at),
        after=(
            _("If this does not suit you, tell us and we will find another time."),
            *_before_we_come(firm),
        ),
    )


def called_off(*, job: Job, dates: Sequence[Told], for_good: bool) -> Letter:
    """`for_good`: the whole job is cancelled, otherwise a new time follows."""
    site = job.site
    follows = (
        _("The job is cancelled. If that is a surprise to you, please call us.")
        if for_good
        else _("We will send you a new time as soon as it is planned.")
    )
    return Letter(
        subject=_("We are not coming: %(when)s") % {"when": when(dates[0], site)},
        greeting=greeting(site.customer.name),
        lines=(_("This visit will not take place:"),)
        if len(dates) == 1
        else (_("These visits will not take place:"),),
        facts=(
            *((_("Not coming"), when(told, site)) for told in dates),
            (_("Job"), f"{job.number} · {job.title}"),
            (_("Where"), place(site)),
        ),
        after=(follows,),
    )


def _facts(visit: Visit, at: str) -> Facts:
    return (
        (_("When"), at),
        (_("Job"), f"{visit.job.number} · {visit.job.title}"),
        (_("Visit"), visit.name),
        (_("Where"), place(visit.job.site)),
    )


def _before_we_come(firm: Firm) -> tuple[str, ...]:
    lines = (_("Please keep the panel and the way to it clear. The power may be off for a while."),)
    if not firm.phone:
        return lines
    return (*lines, _("Can’t be there? Call %(phone)s.") % {"phone": phone(firm.phone)})
