"""Change the firm itself, and the short lists it keeps: authorities, utilities, certificates."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from contractor.history import recorded
from contractor.models import Authority, CertificateKind, Firm, Person, Utility
from contractor.services.saving import save_clean


@recorded
def change_firm(*, values: Mapping[str, Any], by: Person) -> Firm:
    """Change what is named in `values`. Raises Invalid, keyed by field."""
    firm = Firm.objects.select_for_update().first() or Firm(pk=1)
    return save_clean(firm, values)


@recorded
def save_entry(
    *, entry: Authority | Utility | CertificateKind, values: Mapping[str, Any], by: Person
) -> Authority | Utility | CertificateKind:
    """Add or change one entry of a short list. Raises Invalid, keyed by field."""
    return save_clean(entry, values)
