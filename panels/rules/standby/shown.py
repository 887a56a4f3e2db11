"""How are hours, energy, power and stages written in the working of an outage?"""

from __future__ import annotations

from contractor.units import Q, Quantity


def stage_label(stage: int) -> str:
    """In words, e.g. "everything up to shed order 2 off"."""
    return f"everything up to shed order {stage} off" if stage else "everything on"


def hours(number: float) -> Quantity:
    return Q(round(number, 6), "h")


def kwh(wh: float) -> Quantity:
    return Q(round(wh / 1000, 9), "kWh")


def kw(watts: float) -> Quantity:
    return Q(round(watts / 1000, 9), "kW")


def kva(volt_amperes: float) -> Quantity:
    return Q(round(volt_amperes / 1000, 9), "kVA")
