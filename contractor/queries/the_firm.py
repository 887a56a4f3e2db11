"""Who are we?"""

from __future__ import annotations

from contractor.models import Firm


def firm() -> Firm | None:
    """The firm, or None before anyone has set it up."""
    return Firm.objects.first()
