"""Prints every fault current of every case by each way. Run: python -m tests.crosscheck"""

from __future__ import annotations

import sys

from tests.crosscheck import by_nodes, by_opendss, by_ours, by_pandapower
from tests.crosscheck.cases import CASES, Case

WAYS = {
    "ours": by_ours.currents,
    "nodal matrix": by_nodes.currents,
    "OpenDSS": by_opendss.currents,
    "pandapower": by_pandapower.currents,
    "point to point": by_ours.point_to_point,
}
KINDS = {"3ph": "three-phase", "ll": "line to line", "ln": "line to neutral"}


def table(case: Case) -> str:
    found = {}
    for way, work in WAYS.items():
        try:
            found[way] = work(case)
        except ImportError:
            found[way] = {}
    rows = [f"{case.title}\n  {'place, fault':<26}" + "".join(f"{way:>16}" for way in WAYS)]
    for (place, kind), ours in found["ours"].items():
        cells = "".join(_cell(known.get((place, kind)), ours) for known in found.values())
        rows.append(f"  {place + ', ' + KINDS[kind]:<26}{cells}")
    return "\n".join(rows)


def _cell(amperes: float | None, ours: float) -> str:
    if amperes is None:
        return f"{'–':>16}"
    off = (amperes / ours - 1) * 100
    return f"{amperes:>10,.0f}{off:>+5.2f}%" if amperes != ours else f"{amperes:>16,.0f}"


def main() -> None:
    sys.stdout.write("\n\n".join(map(table, CASES)) + "\n")


if __name__ == "__main__":
    main()
