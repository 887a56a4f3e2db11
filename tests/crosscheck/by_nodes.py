"""The currents by nodal admittances: every conductor a branch, every wire of a place a node.

Nothing of our derivation is in it: windings are ideal transformers with their ohms in series, the
whole network is one matrix, and the fault current is the voltage before over the impedance seen.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from tests.crosscheck.by_ours import Currents
from tests.crosscheck.cases import Case
from tests.crosscheck.network import Line, Network, Source, Transformer, network

Matrix = npt.NDArray[np.complex128]
EARTH = 1e-7  # ohms that tie each neutral down where its winding starts
LOOSE = 1e9  # ohms that keep a floating node in reach of the solver


class Nodes:
    """Admittances and injected currents by named node."""

    def __init__(self) -> None:
        self.names: dict[str, int] = {}
        self.branches: list[tuple[dict[str, complex], complex]] = []
        self.injected: dict[str, complex] = {}

    def branch(self, turns: dict[str, complex], ohms: complex) -> None:
        """A branch whose voltage is the sum of node voltages times their turns."""
        for name in turns:
            self.names.setdefault(name, len(self.names))
        self.branches.append((turns, 1 / ohms))

    def matrix(self) -> Matrix:
        made = np.zeros((len(self.names), len(self.names)), dtype=complex)
        for turns, admittance in self.branches:
            for one, factor in turns.items():
                for other, against in turns.items():
                    made[self.names[one], self.names[other]] += factor * against * admittance
        return made


def currents(case: Case) -> Currents:
    net = network(case.plain)
    nodes = Nodes()
    for element in net.elements:
        {Line: _line, Transformer: _transformer, Source: _source}[type(element)](
            nodes, net, element
        )
    for name in list(nodes.names):
        nodes.branch({name: 1}, LOOSE)
    inverse = np.linalg.inv(nodes.matrix())
    injected = np.zeros(len(nodes.names), dtype=complex)
    for name, amperes in nodes.injected.items():
        injected[nodes.names[name]] = amperes
    return dict(_faults(net, nodes, inverse, inverse @ injected))


def _faults(
    net: Network, nodes: Nodes, inverse: Matrix, volts: Matrix
) -> Iterator[tuple[tuple[str, str], float]]:
    for place in net.volts:
        if f"{place}.n" not in nodes.names or place in ("head",) or place.endswith("x"):
            continue
        a, b, n = (nodes.names[f"{place}.{wire}"] for wire in ("a", "b", "n"))
        yield (place, "ll"), _between(inverse, volts, a, b)
        yield (place, "ln"), _between(inverse, volts, a, n)
        if not net.single:
            yield (place, "3ph"), _all_three(inverse, volts, nodes, place)


def _between(inverse: Matrix, volts: Matrix, one: int, other: int) -> float:
    seen = inverse[one, one] + inverse[other, other] - inverse[one, other] - inverse[other, one]
    return float(abs(volts[one] - volts[other]) / abs(seen))


def _all_three(inverse: Matrix, volts: Matrix, nodes: Nodes, place: str) -> float:
    """Line a while a-b and b-c are both shorted."""
    a, b, c = (nodes.names[f"{place}.{wire}"] for wire in ("a", "b", "c"))
    loops = np.array(
        [
            [1.0 if at == a else -1.0 if at == b else 0.0 for at in range(len(volts))],
            [1.0 if at == b else -1.0 if at == c else 0.0 for at in range(len(volts))],
        ]
    )
    seen = loops @ inverse @ loops.T
    flowing = np.linalg.solve(seen, loops @ volts)
    return float(abs(flowing[0]))


def _wires(net: Network) -> str:
    return "ab" if net.single else "abc"


def _line(nodes: Nodes, net: Network, line: Line) -> None:
    for wire in _wires(net):
        nodes.branch({f"{line.near}.{wire}": 1, f"{line.far}.{wire}": -1}, line.line)
    nodes.branch({f"{line.near}.n": 1, f"{line.far}.n": -1}, line.neutral)


def _source(nodes: Nodes, net: Network, source: Source) -> None:
    """A Norton source on each phase against an earthed neutral; of a single-phase head, one."""
    phase = source.volts / math.sqrt(3)
    ohms = cmath.rect(phase / source.amperes, math.atan(source.x_over_r))
    nodes.branch({f"{source.bus}.n": 1}, EARTH)
    for turn, wire in enumerate("abc"):
        node = f"{source.bus}.{wire}"
        nodes.branch({node: 1, f"{source.bus}.n": -1}, ohms)
        amperes = cmath.rect(phase, math.radians(-120 * turn)) / ohms
        nodes.injected[node] = nodes.injected.get(node, 0) + amperes
        back = f"{source.bus}.n"
        nodes.injected[back] = nodes.injected.get(back, 0) - amperes


def _transformer(nodes: Nodes, net: Network, unit: Transformer) -> None:
    nodes.branch({f"{unit.far}.n": 1}, EARTH)
    if unit.centre_tap:
        _centre_tapped(nodes, unit)
        return
    ratio = unit.far_volts / math.sqrt(3) / unit.near_volts  # a delta winding to one of a wye
    ohms = unit.far_volts**2 / (unit.kva * 1000) * unit.z
    for wire, other in ("ac", "ba", "cb"):
        nodes.branch(
            {
                f"{unit.far}.{wire}": 1, f"{unit.far}.n": -1,
                f"{unit.near}.{wire}": -ratio, f"{unit.near}.{other}": ratio,
            },
            ohms,
        )  # fmt: skip


def _centre_tapped(nodes: Nodes, unit: Transformer) -> None:
    """Three windings in star, ohms seen from half the secondary, around an inner node."""
    rp, rs, xp, xs = unit.half
    ohms = unit.far_volts**2 / (unit.kva * 1000) * unit.z
    primary = complex(ohms.real * rp, ohms.imag * xp)
    second = complex(ohms.real * rs, ohms.imag * xs)
    ratio, core = unit.far_volts / 2 / unit.near_volts, f"{unit.far}.core"
    nodes.branch({f"{unit.near}.a": ratio, f"{unit.near}.b": -ratio, core: -1}, primary)
    nodes.branch({core: 1, f"{unit.far}.a": -1, f"{unit.far}.n": 1}, second)
    nodes.branch({core: 1, f"{unit.far}.n": -1, f"{unit.far}.b": 1}, second)
