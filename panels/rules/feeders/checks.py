"""Is each panel and each device built for what it carries?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from panels.rules.edition import Edition
from panels.rules.feeders.conductors import conductors
from panels.rules.feeders.finding import Drawn, Finding, State, a, against
from panels.rules.feeders.legs import evenly
from panels.rules.feeders.site import Box, Site

DEVICE = "215.3, 230.42(A)"


def checked(site: Site, box: Box, drawn: Drawn, edition: Edition, *, entire: bool) -> list[Finding]:
    """Everything there is to ask about a panel and what feeds it. `entire`: it carries all of one
    dwelling."""
    ahead = ahead_of_transformer(site, box, drawn)
    return [
        *_devices(site, box, drawn, ahead),
        _bus(site, box),
        *conductors(site, box, ahead, edition, entire=entire),
        *_secondary(box),
    ]


def ahead_of_transformer(site: Site, box: Box, drawn: Drawn) -> Drawn:
    """What the panel draws from its feeder: by the voltages where a transformer stands between,
    every leg taken as the fullest."""
    if box.transformer is None or box.name not in site.feeders:
        return drawn
    above, breaker = site.feeders[box.name]
    ratio = evenly(box.system, 1.0) / evenly(above.system, 1.0, legs=len(breaker.legs))
    return replace(
        drawn, plain_a=drawn.plain_a * ratio, continuous_a=drawn.continuous_a * ratio
    )  # fmt: skip


def _devices(site: Site, box: Box, drawn: Drawn, ahead: Drawn) -> Iterator[Finding]:
    name = box.name
    yield against(
        drawn, box.rating_a, panel=name, check="panel", what="Panel rating", cite="408.30"
    )
    if box.main_a is not None:
        yield against(drawn, box.main_a, panel=name, check="main", what="Main breaker", cite=DEVICE)
    if name in site.feeders:
        breaker = site.feeders[name][1]
        what = f"Feeder breaker {breaker.place}".strip()
        yield against(
            ahead, breaker.rating_a, panel=name, check="device", what=what, cite=DEVICE,
            full_rated=breaker.full_rated, at=breaker.place,
        )  # fmt: skip


def _bus(site: Site, box: Box) -> Finding:
    """The bus has a device of no more than its rating ahead of it (408.36)."""
    known = [device for device in (box.main_a, _upstream(site, box)) if device is not None]
    left: float | None = None
    if not known:
        state, record = State.UNKNOWN, "the main breaker"
        said = f"Bus: cannot tell what protects its {a(box.bus_a)}, no main breaker is recorded."
    else:
        device, record = min(known), ""
        left = box.bus_a - device
        state = State.PASS if left >= 0 else State.FAIL
        said = f"Bus of {a(box.bus_a)} behind a device of {a(device)}."
    return Finding(
        panel=box.name, check="bus", state=state, sentence=said, cite="408.36",
        limit_a=box.bus_a, left_a=left, record=record,
    )  # fmt: skip


def _upstream(site: Site, box: Box) -> float | None:
    """The device ahead of a panel; a transformer between them takes its protection away. Lugs
    pass on the device ahead of the panel they are in."""
    if box.transformer is not None:
        return None
    if box.name in site.feeders:
        return site.feeders[box.name][1].rating_a
    if not box.through:
        return None
    above = site.by_name[box.through]
    devices = [device for device in (above.main_a, _upstream(site, above)) if device is not None]
    return min(devices, default=None)


def _secondary(box: Box) -> Iterator[Finding]:
    if box.transformer is None:
        return
    device = box.transformer.secondary_protected_a or box.main_a
    state, record = State.UNKNOWN, "the protection on its secondary side"
    said = "Transformer: cannot tell because the protection of its secondary is not recorded."
    if device:
        state, record = State.PASS if device <= box.bus_a else State.FAIL, ""
        said = f"Transformer: secondary protected at {a(device)}, bus {a(box.bus_a)}."
    yield Finding(
        panel=box.name, check="secondary", state=state, sentence=said, cite="408.36(B)",
        record=record,
    )  # fmt: skip
