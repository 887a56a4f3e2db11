"""The currents by pandapower, IEC 60909: three-phase and line to line, of three-phase sites only.

The standard multiplies the voltage by c and corrects a transformer by K_T; neither is done in the
trade here. So the result is divided by c, the source is made c times as large, and the
transformer's voltage is set so that K_T times it is the one on its nameplate.
"""

from __future__ import annotations

import math
import warnings
from typing import Any

from tests.crosscheck.by_ours import Currents
from tests.crosscheck.cases import Case
from tests.crosscheck.network import Line, Network, Source, Transformer, network

C = 1.05  # low voltage, 6 % tolerance
C_ABOVE = 1.10  # above 1 kV


def currents(case: Case) -> Currents:
    """Nothing where the site is single-phase: the tool calculates three."""
    net = network(case.plain)
    if net.single:
        return {}
    import pandapower.shortcircuit

    made, buses = _build(net)
    found: Currents = {}
    for kind, fault in (("3ph", "3ph"), ("ll", "2ph")):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", FutureWarning)  # of its own use of its table library
            pandapower.shortcircuit.calc_sc(made, fault=fault, case="max", lv_tol_percent=6)
        for place, bus in buses.items():
            if place != "head" and not place.endswith("x"):
                found[place, kind] = float(made.res_bus_sc.ikss_ka.at[bus]) * 1000 / C
    return found


def _build(net: Network) -> tuple[Any, dict[str, int]]:
    import pandapower as pp

    made = pp.create_empty_network(f_hz=60)
    levels = {**net.volts}
    for element in net.elements:
        if isinstance(element, Source):
            levels[element.bus] = element.volts
    wanted = {
        place for each in net.elements
        for place in ([each.bus] if isinstance(each, Source) else [each.near, each.far])
    }  # fmt: skip
    buses = {place: pp.create_bus(made, vn_kv=levels[place] / 1000) for place in sorted(wanted)}
    for element in net.elements:
        if isinstance(element, Source):
            _source(pp, made, buses, element)
        elif isinstance(element, Line):
            _line(pp, made, buses, element)
        else:
            _transformer(pp, made, buses, element)
    return made, buses


def _source(pp: Any, made: Any, buses: dict[str, int], source: Source) -> None:
    factor = C if source.volts < 1000 else C_ABOVE
    mva = math.sqrt(3) * source.volts * source.amperes / 1e6 * factor
    pp.create_ext_grid(
        made, buses[source.bus], s_sc_max_mva=mva, rx_max=1 / source.x_over_r,
        s_sc_min_mva=mva, rx_min=1 / source.x_over_r,
    )  # fmt: skip


def _line(pp: Any, made: Any, buses: dict[str, int], line: Line) -> None:
    pp.create_line_from_parameters(
        made, buses[line.near], buses[line.far], length_km=1, r_ohm_per_km=line.line.real,
        x_ohm_per_km=line.line.imag, c_nf_per_km=0, max_i_ka=10, endtemp_degree=75,
    )  # fmt: skip


def _transformer(pp: Any, made: Any, buses: dict[str, int], unit: Transformer) -> None:
    undone = 1 / (0.95 * C - 0.6 * unit.z.imag)  # s with s × K_T(s × x) = 1
    z = unit.z * undone
    pp.create_transformer_from_parameters(
        made, buses[unit.near], buses[unit.far], sn_mva=unit.kva / 1000,
        vn_hv_kv=unit.near_volts / 1000, vn_lv_kv=unit.far_volts / 1000,
        vk_percent=abs(z) * 100, vkr_percent=z.real * 100, pfe_kw=0, i0_percent=0,
    )  # fmt: skip
