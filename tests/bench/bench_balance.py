"""How long does a full panel take to balance? Run: python -m tests.bench.bench_balance"""

from __future__ import annotations

import random
import resource
import statistics
import sys
import time

from panels.rules.balance import Breaker, Proposal, propose
from panels.rules.layout import Frame, Half, LayoutError, Numbering, Seat, System, seat

PANELS = 50
SYSTEMS = (System.SPLIT_240, System.WYE_208, System.DELTA_240)
# (poles, how often) of what fills a space; 0 is left empty.
SHAPES = ((0, 1), (1, 11), (2, 3), (3, 1))


def filled(system: System, *, seed: int, spaces: int = 42) -> tuple[Frame, list[Breaker]]:
    """A panel with breakers down both columns: loads to a VA, some not recorded, some locked,
    tandems in the lower half, multiwire pairs, some of them tied."""
    dice = random.Random(seed)
    low = frozenset(range(spaces // 2 + 1, spaces + 1))
    frame = Frame(spaces=spaces, numbering=Numbering.ACROSS, system=system, tandem=low)
    found: list[Breaker] = []
    taken: list[Seat] = []
    for space in range(1, spaces + 1):
        for one in _at(dice, frame, space):
            try:
                there = one.seat_in(frame)
            except LayoutError:
                continue
            high = system is System.DELTA_240 and there.legs == ("B",)
            if not high and not any(there.overlaps(other) for other in taken):
                found.append(one)
                taken.append(there)
    return frame, found


def _at(dice: random.Random, frame: Frame, space: int) -> list[Breaker]:
    poles = dice.choices([p for p, _ in SHAPES], [often for _, often in SHAPES])[0]
    if not poles or poles > len(frame.system.legs):
        return []
    if frame.tandem and space in frame.tandem and poles == 1 and dice.random() < 0.2:
        return [_one(dice, space, half=half) for half in Half]
    if poles == 1 and dice.random() < 0.1:
        column, row = frame.place(space)
        below = frame.number(column, row + 1)
        said = {"multiwire": f"M{space}", "tied": dice.random() < 0.5}
        try:
            if below and seat(frame, space=below, poles=1).legs != ("B",):
                return [_one(dice, space, **said), _one(dice, below, **said)]
        except LayoutError:
            return []
    return [_one(dice, space, poles=poles, locked=dice.random() < 0.05)]


def _one(dice: random.Random, space: int, *, poles: int = 1, **said: object) -> Breaker:
    va = None if dice.random() < 0.15 else dice.randint(60, 2400 * poles)
    half = said.get("half")
    name = f"Circuit {space}{half.value if isinstance(half, Half) else ''}"
    return Breaker(name=name, space=space, poles=poles, va=va, **said)  # type: ignore[arg-type]


def timed(system: System, seed: int) -> tuple[float, Proposal]:
    frame, breakers = filled(system, seed=seed)
    start = time.process_time()
    told = propose(frame, breakers)
    return time.process_time() - start, told


def main() -> None:
    timed(System.SPLIT_240, seed=PANELS)  # loads what is loaded once
    sys.stdout.write(f"{PANELS} panels of 42 spaces each, loads to a VA, seconds of one thread\n")
    for system in SYSTEMS:
        runs = [timed(system, seed) for seed in range(PANELS)]
        seconds = [taken for taken, _ in runs]
        gaps = [round(told.imbalance - told.least, 6) for _, told in runs]
        sys.stdout.write(
            f"{system.value:<8} median {statistics.median(seconds):.2f} s, worst "
            f"{max(seconds):.2f} s; proven {sum(told.proven for _, told in runs)} of {PANELS}, "
            f"largest gap {max(gaps):.3g} VA; most moves {max(told.moves for _, told in runs)}\n"
        )
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(f"peak memory {peak:.0f} MB\n")


if __name__ == "__main__":
    main()
