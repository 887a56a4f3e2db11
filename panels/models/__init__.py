"""The panels' rows."""

from panels.models.circuits import Circuit
from panels.models.entrance import ServiceEntrance
from panels.models.load import Adoption, Calculation, Home, Load
from panels.models.meter import MeterData
from panels.models.panels import Panel
from panels.models.proof import DirectoryRevision, Reading
from panels.models.recalculation import Recalculated, Recalculation
from panels.models.shop import Shop
from panels.models.sources import Source

__all__ = [
    "Adoption",
    "Calculation",
    "Circuit",
    "DirectoryRevision",
    "Home",
    "Load",
    "MeterData",
    "Panel",
    "Reading",
    "Recalculated",
    "Recalculation",
    "ServiceEntrance",
    "Shop",
    "Source",
]
