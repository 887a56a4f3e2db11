"""What do we say after the work: here is your panel, is all well, we heard you, well done?"""

from __future__ import annotations

import uuid

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from contractor.models import CustomerLink, Firm, Person
from contractor.telephone import phone
from followups.cadence.words import Answer
from followups.services.letters.paper import Letter, address, greeting, place, stop_address
from jobs.models import Job


def walk_through(*, job: Job, link: CustomerLink | None, firm: Firm) -> Letter:
    """`link` opens the customer's page of the home; None when no panel is on record there."""
    site = job.site
    lines = [
        _("Our work at %(place)s is done: %(job)s.") % {"place": place(site), "job": job.title}
    ]
    if link:
        lines.append(
            _(
                "What each breaker in your panel feeds is written down on a page of your own. Keep "
                "this mail: look there before you switch anything off, and show it to any "
                "electrician who works at your home."
            )
        )
    return Letter(
        subject=_("Your electrical work is done: %(job)s") % {"job": job.title},
        greeting=greeting(site.customer.name),
        lines=tuple(lines),
        button=(_("Open my panel page"), address("customer-page", link.token)) if link else None,
        cautions=cautions(job) if link else (),
        after=(_asking_in(firm.check_in_days),),
    )


def _asking_in(days: int) -> str:
    sentence = ngettext(
        "Tomorrow we will ask you whether all is well. Call us any time before.",
        "In %(days)s days we will ask you whether all is well. Call us any time before.",
        days,
    )
    return sentence % {"days": days}


def check_in(*, job: Job, message_id: uuid.UUID, link: CustomerLink) -> Letter:
    return Letter(
        subject=_("Is all well? %(job)s") % {"job": job.title},
        greeting=greeting(job.site.customer.name),
        lines=(
            _("A while ago we finished this at %(place)s: %(job)s. Is all well?")
            % {"place": place(job.site), "job": job.title},
            _("Choose one; on the page that opens you can add words and pictures, and send."),
        ),
        marks=_marks(link),
        cautions=(_danger_at(job),),
        after=(_("We read every answer, and what you say goes to the people who did the work."),),
        stop_url=stop_address(message_id),
    )


def reminder(*, job: Job, message_id: uuid.UUID, link: CustomerLink) -> Letter:
    return Letter(
        subject=_("Once more: is all well? %(job)s") % {"job": job.title},
        greeting=greeting(job.site.customer.name),
        lines=(
            _("We have not heard from you about our work at %(place)s: %(job)s.")
            % {"place": place(job.site), "job": job.title},
            _("One answer helps us put right what is wrong. We will not ask again."),
        ),
        marks=_marks(link),
        cautions=(_danger_at(job),),
        stop_url=stop_address(message_id),
    )


def callback_received(*, job: Job, words: str, firm: Firm) -> Letter:
    lines = [_("We have your message and someone will call you to arrange a visit.")]
    if firm.phone:
        lines.append(_("If it cannot wait, call us now: %(phone)s.") % {"phone": phone(firm.phone)})
    return Letter(
        subject=_("We have your message: %(job)s") % {"job": job.title},
        greeting=greeting(job.site.customer.name),
        lines=tuple(lines),
        quote=words,
        cautions=(_danger_at(job), _("Please do not open the panel or any device yourself.")),
    )


def praise(*, person: Person, job: Job, words: str) -> Letter:
    """To someone who did the work, by name of the job."""
    return Letter(
        subject=_("Well done: %(job)s") % {"job": f"{job.number} {job.title}"},
        greeting=greeting(person.name),
        lines=(
            _("%(customer)s says about job %(job)s at %(place)s, which you worked on:")
            % {
                "customer": job.site.customer.name,
                "job": f"{job.number} {job.title}",
                "place": place(job.site),
            },
        ),
        quote=words,
        button=(_("See it in the program"), address("thanks")),
    )


def danger() -> str:
    """What to do when it may be dangerous: said wherever a customer may report a fault."""
    return _(
        "Burning smell, sparks, smoke, heat, or a shock? Keep away from it, switch its breaker off "
        "only if you can reach the panel safely, and call 911. Wires down or trouble at the meter: "
        "stay away and call 911 or your utility."
    )


def _danger_at(job: Job) -> str:
    """The same, with whom to call about the utility's side of this house."""
    utility = job.site.utility
    if not (utility and utility.phone):
        return danger()
    return f"{danger()} {utility.name}: {phone(utility.phone)}."


def cautions(job: Job) -> tuple[str, ...]:
    return (
        _(
            "A label can be wrong, and switching a breaker off does not make a panel safe to open. "
            "Leave electrical work to licensed people; local codes and the authority having "
            "jurisdiction decide."
        ),
        _danger_at(job),
    )


def _marks(link: CustomerLink) -> tuple[tuple[str, str], ...]:
    page = address("answer", link.token)
    return (
        (_("All well"), f"{page}?a={Answer.WELL}"),
        (_("I have a question"), f"{page}?a={Answer.QUESTION}"),
        (_("Something is wrong"), f"{page}?a={Answer.WRONG}"),
    )
