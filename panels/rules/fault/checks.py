"""Is everything rated for the fault current at its place, and what has to be marked where?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.feeders.finding import Finding, State
from panels.rules.feeders.site import Box, Breaker, Entrance, Occupancy, Site
from panels.rules.quantities import AMPERE, show
from panels.rules.working import Line, line


def checked(
    site: Site, box: Box, available: float, open_: Sequence[str], edition: Edition
) -> Iterator[Finding]:
    """The panel's short-circuit rating and its breakers' interrupting ratings."""
    cite = edition.fault.interrupting.cite
    yield _rated(box.name, "rating", "Panel", box.interrupting_ka, available, open_, cite)
    for rating, alike in _by_rating(box.breakers):
        found = _rated(box.name, "breaker", _alike(alike), rating, available, open_, cite)
        if found.state is not State.PASS:
            yield replace(found, at=alike[0].place)
    if silent := [breaker for breaker in box.breakers if breaker.interrupting_ka is None]:
        yield _silent(box, silent, available, cite)


def _by_rating(breakers: Sequence[Breaker]) -> Iterator[tuple[float, list[Breaker]]]:
    """The breakers whose interrupting rating is recorded, those of one rating together."""
    for rating in sorted({one.interrupting_ka for one in breakers if one.interrupting_ka}):
        yield rating, [one for one in breakers if one.interrupting_ka == rating]


def _alike(breakers: Sequence[Breaker]) -> str:
    if len(breakers) == 1:
        return f"Breaker {breakers[0].told}"
    return f"{len(breakers)} breakers ({', '.join(one.place or one.name for one in breakers)})"


def _silent(box: Box, silent: Sequence[Breaker], available: float, cite: str) -> Finding:
    many = "one breaker" if len(silent) == 1 else f"{len(silent)} breakers"
    said = (
        f"Breakers: cannot tell because the interrupting rating of {many} is not recorded;"
        f" {ka(available)} is available. A series rating is marked on the panel."
    )
    return Finding(
        panel=box.name, check="breakers", state=State.UNKNOWN, sentence=said, cite=cite,
        record="the interrupting rating marked on each", at=silent[0].place,
    )  # fmt: skip


def _rated(
    panel: str, check: str, what: str, rating_ka: float | None, available: float,
    open_: Sequence[str], cite: str,
) -> Finding:  # fmt: skip
    """A rating against what is available. Where something on the way is not recorded, what is
    available is an upper bound: it can pass the rating, and cannot fail it."""
    if rating_ka is None:
        said = f"{what}: cannot tell because its short-circuit rating is not recorded;"
        said += f" {ka(available)} is available."
        state, record = State.UNKNOWN, "the short-circuit rating on its label"
    elif rating_ka * 1000 >= available - 1e-6:
        said, state, record = f"{what}: {ka(available)} of {rating_ka:g} kA.", State.PASS, ""
    elif open_:
        missing = ", ".join(dict.fromkeys(open_))
        said = f"{what}: cannot tell because not recorded is {missing}. Up to {ka(available)}"
        said += f" may be available, the rating is {rating_ka:g} kA."
        state, record = State.UNKNOWN, missing
    else:
        said = f"{what}: rated {rating_ka:g} kA, {ka(available)} is available."
        state, record = State.FAIL, ""
    return Finding(
        panel=panel, check=check, state=state, sentence=said, cite=cite, record=record
    )  # fmt: skip


def disconnect(
    entrance: Entrance, available: float | None, open_: Sequence[str], edition: Edition
) -> Iterator[Finding]:
    """The service disconnect, where the edition asks one of this occupancy to be rated for it."""
    book = edition.fault.disconnect
    if available is None or entrance.occupancy not in book.value:
        return
    what, cite = "Service disconnect", book.cite
    yield _rated("", "disconnect", what, entrance.disconnect_ka, available, open_, cite)


def marking(
    site: Site, at_service: float | None, at_panels: Mapping[str, float], edition: Edition
) -> Iterator[Line]:
    """What has to be marked, by edition and occupancy: the figure; the day is the calculation's.

    `at_panels` is the largest fault current of each panel by its name.
    """
    book, occupancy = edition.fault, site.entrance.occupancy
    if occupancy is None:
        said = "Cannot tell because what the service is for is not recorded. Record it."
        yield line("marking", "Marking", "cannot tell", book.service_marking, note=said)
        return
    if occupancy not in book.service_marking.value:
        said = f"Not asked of a {occupancy.label} at its service; ratings must do all the same."
        yield line("marking", "Marking", "not asked", book.service_marking, note=said)
    else:
        value = "not known yet" if at_service is None else _amperes(at_service)
        note = "At the service equipment, with the date; calculated again when anything changes."
        if occupancy is Occupancy.APARTMENTS:
            note += " Of a house of several dwellings: ask the authority."
        yield line("marking", "Mark at the service", value, book.service_marking, note=note)
    if occupancy in book.panel_marking.value:
        for name, amperes in at_panels.items():
            yield line("mark_panel", f"Mark at {name}", _amperes(amperes), book.panel_marking)


def _amperes(amperes: float) -> Quantity:
    return Q(float(math.ceil(amperes - 1e-6)), AMPERE)


def ka(amperes: float) -> str:
    return show(Q(round(amperes / 1000, 2), "kA"))
