"""The currents by OpenDSS: the whole network with its neutral, a bolted fault at each place."""

from __future__ import annotations

import math

from tests.crosscheck.by_ours import Currents
from tests.crosscheck.cases import Case
from tests.crosscheck.network import Line, Network, Source, Transformer, network

BOLTED = 1e-7
SOLID = "r=1e-7 x=0"


def currents(case: Case) -> Currents:
    net = network(case.plain)
    places = [name for name in net.volts if name != "head" and not name.endswith("x")]
    kinds = ["ll", "ln"] if net.single else ["3ph", "ll", "ln"]
    return {(place, kind): _fault(net, place, kind) for place in places for kind in kinds}


def _fault(net: Network, place: str, kind: str) -> float:
    import opendssdirect as dss

    for command in [*_commands(net), *_laid(net, place, kind), "solve mode=snapshot"]:
        dss.Text.Command(command)
    dss.Circuit.SetActiveElement("Fault.F1")
    parts = dss.CktElement.Currents()
    return float(math.hypot(parts[0], parts[1]))


def _laid(net: Network, place: str, kind: str) -> list[str]:
    neutral = 3 if net.single else 4
    ends = {"ll": (f"{place}.1", f"{place}.2"), "ln": (f"{place}.1", f"{place}.{neutral}")}
    if kind == "3ph":
        short = ["new Fault.F1 phases=1 bus1={0}.1 bus2={0}.5 r={1}",
                 "new Fault.F2 phases=1 bus1={0}.2 bus2={0}.5 r={1}",
                 "new Fault.F3 phases=1 bus1={0}.3 bus2={0}.5 r={1}"]  # fmt: skip
        return [one.format(place, BOLTED) for one in short]
    near, far = ends[kind]
    return [f"new Fault.F1 phases=1 bus1={near} bus2={far} r={BOLTED}"]


def _commands(net: Network) -> list[str]:
    made = ["clear"]
    for number, element in enumerate(net.elements):
        if isinstance(element, Source):
            made += _source(element, net)
        elif isinstance(element, Line):
            made.append(_line(element, net, number))
        else:
            made += _transformer(element, number)
    levels = sorted({volts / 1000 for volts in net.volts.values()} | {12.47})
    return [*made, f"set voltagebases=[{' '.join(map(str, levels))}]", "calcvoltagebases"]


def _source(source: Source, net: Network) -> list[str]:
    ohms = source.volts / math.sqrt(3) / source.amperes
    angle = math.atan(source.x_over_r)
    r, x = ohms * math.cos(angle), ohms * math.sin(angle)
    ends = f"bus1={source.bus}.1.2.3 phases=3 basekv={source.volts / 1000} pu=1"
    made = [f"new Circuit.Case {ends} r1={r} x1={x} r0={r} x0={x}"]
    if source.bus == "service":
        made.append(f"new Reactor.Tie phases=1 bus1=service.4 bus2=service.0 {SOLID}")
    return made


def _line(line: Line, net: Network, number: int) -> str:
    wires = [line.line] * (2 if net.single else 3) + [line.neutral]
    nodes = ".".join(str(node + 1) for node in range(len(wires)))
    r, x, c = (
        "|".join(
            " ".join(str(value(wire) if column == row else 0) for column in range(row + 1))
            for row, wire in enumerate(wires)
        )
        for value in (lambda z: z.real, lambda z: z.imag, lambda z: 0)
    )
    return (
        f"new Line.L{number} phases={len(wires)} bus1={line.near}.{nodes} bus2={line.far}.{nodes}"
        f" rmatrix=({r}) xmatrix=({x}) cmatrix=({c}) length=1 units=none"
    )


def _transformer(unit: Transformer, number: int) -> list[str]:
    near, far = unit.near_volts / 1000, unit.far_volts / 1000
    if not unit.centre_tap:
        return [
            f"new Transformer.T{number} phases=3 windings=2 %noloadloss=0 %imag=0 ppm=0"
            f" xhl={unit.z.imag * 100}"
            f" wdg=1 bus={unit.near}.1.2.3 conn=delta kv={near} kva={unit.kva}"
            f" %r={unit.z.real * 50}"
            f" wdg=2 bus={unit.far}.1.2.3.4 conn=wye kv={far} kva={unit.kva} %r={unit.z.real * 50}",
            f"new Reactor.Tie{number} phases=1 bus1={unit.far}.4 bus2={unit.far}.0 {SOLID}",
        ]
    rp, rs, xp, xs = (4 * part for part in unit.half)  # on the base of half the winding
    r, x = unit.z.real * 100, unit.z.imag * 100
    return [
        f"new Transformer.T{number} phases=1 windings=3 %noloadloss=0 %imag=0 ppm=0"
        f" xhl={x * (xp + xs)} xht={x * (xp + xs)} xlt={x * 2 * xs}"
        f" wdg=1 bus={unit.near}.1.2 conn=delta kv={near} kva={unit.kva} %r={r * rp}"
        f" wdg=2 bus={unit.far}.1.3 conn=wye kv={far / 2} kva={unit.kva} %r={r * rs}"
        f" wdg=3 bus={unit.far}.3.2 conn=wye kv={far / 2} kva={unit.kva} %r={r * rs}",
        f"new Reactor.Tie{number} phases=1 bus1={unit.far}.3 bus2={unit.far}.0 {SOLID}",
    ]
