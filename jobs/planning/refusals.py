"""Why can this crew not do this visit then? Every reason at once, each a sentence to act on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from jobs.planning.asking import Ask
from jobs.planning.supervision import apprentices_over
from jobs.planning.words import Code, gettext_noop, listed, said

Values = Mapping[str, object]


@dataclass(frozen=True)
class Refusal:
    """One reason: `words` is the sentence with names in braces, `values` fills them."""

    code: Code
    words: str
    values: Values
    can_override: bool = False

    @property
    def sentence(self) -> str:
        return self.words.format(**self.values)


Found = Iterator[tuple[Code, str, Values]]


def refusals(ask: Ask, *, may_override: frozenset[Code]) -> list[Refusal]:
    """Everything that stands against the visit as asked, in the order of `CHECKS`.

    `may_override` is what the firm lets the office insist on; the codes that no one may
    override are left out of it whatever it says.
    """
    return [
        Refusal(code, words, values, code in may_override and not code.never)
        for check in CHECKS
        for code, words, values in check(ask)
    ]


def job_open(ask: Ask) -> Found:
    if ask.job_closed:
        yield (
            Code.JOB_CLOSED,
            gettext_noop("{job} is {state}: open it again first."),
            {
                "job": ask.job,
                "state": ask.job_state,
            },
        )
    if ask.visit_over:
        yield (
            Code.VISIT_OVER,
            gettext_noop("{visit} is {state} and can no longer be planned."),
            {
                "visit": ask.visit,
                "state": ask.visit_state,
            },
        )


def somebody(ask: Ask) -> Found:
    if not ask.workers:
        yield (
            Code.NOBODY,
            gettext_noop("{crew} has nobody in it. Choose who goes."),
            {"crew": ask.crew},
        )


def one_place_at_a_time(ask: Ask) -> Found:
    for worker in ask.workers:
        for other in worker.elsewhere:
            if other.starts < ask.ends and ask.starts < other.ends:
                yield (
                    Code.TWICE,
                    TWICE,
                    {
                        "person": worker.name,
                        "visit": other.visit,
                        "place": other.place,
                        "time": said(other.starts, other.ends),
                    },
                )


TWICE = gettext_noop("{person} is on {visit} at {place}, {time}: choose another time or person.")


def holds_released(ask: Ask) -> Found:
    for hold in ask.holds:
        yield (
            Code.HOLD,
            gettext_noop("{visit} waits for: {hold}."),
            {
                "visit": ask.visit,
                "hold": hold,
            },
        )


def licence_on_site(ask: Ask) -> Found:
    if ask.grade_needed is None or not ask.workers:
        return
    if any(
        (worker.grade_on(ask.last_day, ask.state) or 0) >= ask.grade_needed
        for worker in ask.workers
    ):
        return
    lapsed = [
        f"{worker.name} {said(licence.expires_on)}"
        for worker in ask.workers
        for licence in worker.licences
        if licence.counts_in(ask.state)
        and licence.grade >= ask.grade_needed
        and licence.expires_on is not None
    ]
    values = {"grade": ask.grade_name, "day": said(ask.last_day), "lapsed": listed(lapsed)}
    if lapsed:
        yield (
            Code.LICENCE,
            gettext_noop(
                "Nobody on this visit holds a {grade} licence good on {day}. It ran out: {lapsed}."
            ),
            values,
        )
    else:
        yield (
            Code.LICENCE,
            gettext_noop("Nobody on this visit holds a {grade} licence. Add someone who does."),
            values,
        )


def certificate_on_site(ask: Ask) -> Found:
    if not ask.certificate_needed or not ask.workers:
        return
    held = [worker for worker in ask.workers if ask.certificate_needed in worker.certificates]
    if any(worker.certified_on(ask.last_day, ask.certificate_needed) for worker in held):
        return
    lapsed = [
        f"{worker.name} {said(worker.certificates[ask.certificate_needed])}" for worker in held
    ]
    values = {
        "certificate": ask.certificate_needed,
        "day": said(ask.last_day),
        "lapsed": listed(lapsed),
    }
    if lapsed:
        yield (
            Code.CERTIFICATE,
            gettext_noop(
                "Nobody on this visit has “{certificate}” good on {day}. It ran out: {lapsed}."
            ),
            values,
        )
    else:
        yield (
            Code.CERTIFICATE,
            gettext_noop(
                "Nobody on this visit has the certificate “{certificate}”. Add someone who does."
            ),
            values,
        )


def enough_people(ask: Ask) -> Found:
    if 0 < len(ask.workers) < ask.people_needed:
        yield (
            Code.PEOPLE,
            gettext_noop("{visit} needs {needed} people; {there} would be there."),
            {
                "visit": ask.visit,
                "needed": ask.people_needed,
                "there": len(ask.workers),
            },
        )


def apprentices_supervised(ask: Ask) -> Found:
    over = apprentices_over(ask.workers, ask.supervision, day=ask.last_day, state=ask.state)
    if over and ask.supervision:
        yield (
            Code.APPRENTICE,
            gettext_noop(
                "{apprentices} would work unsupervised: each licensed {grade} may have {ratio} "
                "apprentice(s) with them. Add a licensed person."
            ),
            {
                "apprentices": listed([worker.name for worker in over]),
                "grade": ask.supervision.grade_name,
                "ratio": ask.supervision.apprentices_each,
            },
        )


def nobody_away(ask: Ask) -> Found:
    for worker in ask.workers:
        for away in worker.absences:
            if away.first_day <= ask.last_day and ask.first_day <= away.last_day:
                yield (
                    Code.ABSENT,
                    gettext_noop("{person} is away ({reason}) {days}."),
                    {
                        "person": worker.name,
                        "reason": away.reason,
                        "days": said(away.first_day, away.last_day),
                    },
                )


def inside_promise(ask: Ask) -> Found:
    if ask.promised is None:
        return
    opens, closes = ask.promised
    if not opens <= ask.starts <= closes:
        yield (
            Code.WINDOW,
            gettext_noop(
                "The customer was promised arrival {window}; this starts {start}: "
                "call them, then change the promise."
            ),
            {"window": said(opens, closes), "start": said(ask.starts)},
        )


def inside_hours(ask: Ask) -> Found:
    if ask.first_day.isoweekday() not in ask.workdays:
        yield (
            Code.WORKDAY,
            gettext_noop("{day} is not a working day."),
            {"day": said(ask.first_day)},
        )
    opens, closes = ask.hours
    if ask.starts.time() < opens or ask.ends.time() > closes or ask.first_day != ask.last_day:
        yield (
            Code.HOURS,
            gettext_noop("{time} is outside working hours ({hours})."),
            {
                "time": said(ask.starts, ask.ends),
                "hours": said(opens, closes),
            },
        )


def in_order(ask: Ask) -> Found:
    for step in ask.before:
        if step.ends > ask.starts:
            yield (
                Code.ORDER,
                gettext_noop(
                    "{other} comes before {visit} and is planned until {time}: start after that."
                ),
                {"visit": ask.visit, "other": step.visit, "time": said(step.ends)},
            )
    for step in ask.after:
        if step.starts < ask.ends:
            yield (
                Code.ORDER,
                gettext_noop(
                    "{other} comes after {visit} and is planned for {time}: end before that."
                ),
                {"visit": ask.visit, "other": step.visit, "time": said(step.starts)},
            )


def not_past(ask: Ask) -> Found:
    if ask.starts < ask.now:
        yield Code.PAST, gettext_noop("{time} is in the past."), {"time": said(ask.starts)}


CHECKS: tuple[Callable[[Ask], Found], ...] = (
    job_open,
    somebody,
    one_place_at_a_time,
    holds_released,
    licence_on_site,
    certificate_on_site,
    enough_people,
    apprentices_supervised,
    nobody_away,
    inside_promise,
    inside_hours,
    in_order,
    not_past,
)
