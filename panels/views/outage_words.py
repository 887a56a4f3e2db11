"""How is an outage told in a sentence or two?"""

from __future__ import annotations

import datetime as dt

from django.utils import formats
from django.utils.translation import gettext as _

from panels.rules.quantities import show
from panels.rules.standby.outage import Outage
from panels.rules.standby.shown import kva


def sentences(outage: Outage) -> list[str]:
    """Everything on; the choice; the least shedding that reaches the morning."""
    return [_ended(said) for said in _said(outage)]


def _ended(said: str) -> str:
    """One full stop, also after "p.m."."""
    return said if said.endswith(".") else f"{said}."


def _said(outage: Outage) -> list[str]:
    told = {stage: _held(outage, stage) for stage in dict.fromkeys((0, outage.shed))}
    said = list(told.values())
    if outage.plan.moments:
        said.append(
            _("With more let go on the way: %(lasts)s")
            % {"lasts": lasting(outage, outage.plan.lasts)}
        )
    said += _morning(outage, set(told))
    return said + _at_once(outage)


def _at_once(outage: Outage) -> list[str]:
    """What has to go before the first quarter-hour, and why."""
    once, limit = outage.at_once, outage.surge_limit
    if once is not None and once <= outage.shed:
        return []
    start, motor = outage.starting(outage.shed)
    words = {"off": off(once or 0)}
    if outage.lasts(outage.shed) <= 0:
        why = _("It is more than the sources can carry")
    elif motor is not None and limit is not None:
        words |= {"motor": motor.name, "start": show(kva(start)), "limit": show(kva(limit))}
        why = _("%(motor)s starts at %(start)s, above the %(limit)s the source can surge") % words
    else:
        return []
    if once is None:
        return [_("%(why)s, at every stage") % {"why": why}]
    return [_("%(why)s: at once %(off)s") % {"why": why, **words}]


def _held(outage: Outage, stage: int) -> str:
    words = {"stage": with_off(stage), "lasts": lasting(outage, outage.lasts(stage))}
    return _("%(stage)s: %(lasts)s") % words


def _morning(outage: Outage, told: set[int]) -> list[str]:
    if outage.to_until > outage.hours:
        return []
    words = {"clock": clock(outage, outage.to_until)}
    reach = outage.first_that_reaches(outage.to_until)
    if reach is None:
        return [_("It does not reach %(clock)s, whatever is switched off.") % words]
    if reach in told and outage.shed in (0, reach):
        return [_("That reaches %(clock)s") % words] if reach == outage.shed else []
    words |= {"off": off(reach)}
    return [_("To reach %(clock)s: %(off)s") % words]


def with_off(stage: int) -> str:
    if not stage:
        return _("With everything on")
    return _("With everything up to number %(n)s off") % {"n": stage}


def off(stage: int) -> str:
    """What is off, as a thing said of a stage."""
    if not stage:
        return _("nothing off")
    return _("everything up to number %(n)s off") % {"n": stage}


def lasting(outage: Outage, hours: float) -> str:
    """So long, and until when; or longer than was looked at."""
    if hours >= outage.hours - 1e-9:
        return _("longer than %(n)s h") % {"n": outage.hours}
    if hours <= 0:
        return _("dark at once")
    words = {"span": span(hours), "clock": clock(outage, hours)}
    return _("%(span)s, until %(clock)s") % words


def span(hours: float) -> str:
    """Hours and whole minutes, rounded down: nobody is promised a minute that is not there."""
    minutes = int(hours * 60 + 1e-6)
    if minutes < 60:
        return _("%(m)s min") % {"m": minutes}
    if minutes % 60 == 0:
        return _("%(h)s h") % {"h": minutes // 60}
    return _("%(h)s h %(m)s min") % {"h": minutes // 60, "m": minutes % 60}


def clock(outage: Outage, hours: float) -> str:
    """The site's clock then, with the day where it is another one."""
    moment = outage.start + dt.timedelta(minutes=int(hours * 60 + 1e-6))
    time = formats.time_format(moment.time())
    if moment.date() == outage.start.date():
        return time
    days = (moment.date() - outage.start.date()).days
    day = formats.date_format(moment, "l") if days < 7 else formats.date_format(moment)
    return _("%(day)s %(time)s") % {"day": day, "time": time}
