"""How are hours, energy, power and stages written in the working of an outage?"""

from __future__ import annotations

from contractor.units import Q, Quantity


def stage_label(stage: int) -> str:
    """In words, short enough for a label: shed orders up to that number are off."""
    return f"up to {stage} off" if stage else "all on"


def hours(number: float) -> Quantity:
    return Q(round(number, 6), "h")


def kwh(wh: float) -> Quantity:
    return Q(round(wh / 1000, 9), "kWh")


def kw(watts: float) -> Quantity:
    return Q(round(watts / 1000, 9), "kW")


def kva(volt_amperes: float) -> Quantity:
    return Q(round(volt_amperes / 1000, 9), "kVA")
