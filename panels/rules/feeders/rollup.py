"""What hangs on each panel in all, itself and everything it feeds?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from panels.rules.edition import Edition
from panels.rules.feeders.legs import Carried, One, evenly
from panels.rules.feeders.site import Box, Breaker, Site, SiteLoad, Use
from panels.rules.quantities import SQUARE_FOOT, VA


@dataclass(frozen=True, kw_only=True)
class Counted:
    """What the code counts for a dwelling's circuits that have no load of their own."""

    each: Mapping[Use, float]


def counted(site: Site, edition: Edition) -> Counted:
    """VA for each such circuit: lighting by area spread evenly over its circuits (210.11(B)),
    small-appliance and laundry circuits by the circuit."""
    if site.dwelling is None:
        return Counted(each={})
    book = edition.lighting
    general = sum(
        breaker.use is Use.GENERAL and not breaker.loads
        for box in site.boxes
        for breaker in box.breakers
    )
    by_area = site.dwelling.floor_area.m_as(SQUARE_FOOT) * book.unit_load.value.magnitude
    return Counted(
        each={
            Use.GENERAL: float(by_area) / max(general, 1),
            Use.SMALL_APPLIANCE: float(book.small_appliance.value.m_as(VA)),
            Use.LAUNDRY: float(book.laundry.value.m_as(VA)),
        }
    )


def carried(site: Site, edition: Edition) -> dict[str, Carried]:
    """What each panel carries, those downstream first counted into those above."""
    each = counted(site, edition)
    found = {box.name: _own(box, each) for box in site.boxes}
    for box, _ in reversed(list(site.downward())):
        above = site.above[box.name]
        if above is not None:
            _take(found[above], found[box.name], site, box)
    return found


def _own(box: Box, each: Counted) -> Carried:
    own = Carried()
    for breaker in box.breakers:
        if not breaker.used or breaker.feeds:
            continue
        for load in breaker.loads:
            _add(own, load, breaker, box)
        if not breaker.loads:
            va = each.each.get(breaker.use)
            if va is None:
                own.unknown.append(f"{box.name} {breaker.told}")
            else:
                _spread(own, va, breaker)
    return own


def _add(own: Carried, load: SiteLoad, breaker: Breaker, box: Box) -> None:
    if load.va is None:
        own.unknown.append(f"{box.name} {breaker.told} ({load.name})")
        return
    if load.one_of:
        legs = tuple(tuple(sorted(each)) for each in _between(load, breaker))
        own.either[load.one_of].append(One(legs=legs, va=load.va, continuous=load.continuous))
        return
    for each in _between(load, breaker):
        own.add(each, load.va, continuous=load.continuous)


def _between(load: SiteLoad, breaker: Breaker) -> Iterator[tuple[str, ...]]:
    """Where it hangs. A load to neutral of which no leg is recorded is counted on each leg of
    its breaker: no leg then comes out too low."""
    if not load.to_neutral:
        yield breaker.legs
    elif load.leg:
        yield (load.leg,)
    else:
        yield from ((leg,) for leg in breaker.legs)


def _spread(own: Carried, va: float, breaker: Breaker) -> None:
    """Outlets of a circuit of several poles (a multiwire circuit) share its load evenly."""
    for leg in breaker.legs:
        own.add((leg,), va / len(breaker.legs))


def _take(above: Carried, below: Carried, site: Site, box: Box) -> None:
    feeder = site.feeders.get(box.name)
    source = site.by_name[box.through] if feeder is None else feeder[0]
    legs = source.system.legs if feeder is None else feeder[1].legs
    if box.transformer is None:
        above.take(below, dict(zip(box.system.legs, legs, strict=False)))
        return
    for continuous in (False, True):
        amperes = below.amperes(box.system, plain=not continuous, continuous=continuous)
        fullest = evenly(box.system, max(amperes.values(), default=0.0))
        above.add(legs, fullest, continuous=continuous)
    above.unknown += below.unknown


def whole(site: Site) -> set[str]:
    """The panels that carry all of the dwelling: the only one the service feeds, and from it
    down every panel that is the only load of the one above."""
    found: set[str] = set()
    names = site.below.get(None, [])
    while len(names) == 1:
        name = names[0]
        found.add(name)
        used = [breaker for breaker in site.by_name[name].breakers if breaker.used]
        names = site.below.get(name, []) if all(breaker.feeds for breaker in used) else []
    return found
