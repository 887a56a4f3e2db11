"""What does an edition of the code have to say about available fault current?

Shapes only; the values are in `panels/editions/fault.py`.
"""

from __future__ import annotations

from dataclasses import dataclass

from panels.rules.sourced import Sourced


@dataclass(frozen=True, kw_only=True)
class FaultRules:
    """Each set names the occupancies (`panels.rules.feeders.site.Occupancy`) it is asked of."""

    interrupting: Sourced[bool]
    service_marking: Sourced[frozenset[str]]
    panel_marking: Sourced[frozenset[str]]
    disconnect: Sourced[frozenset[str]]
