"""Which circuits stay on in an outage, and in which order are they let go?"""

from __future__ import annotations

import uuid
from collections.abc import Mapping

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Stale
from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import Circuit
from panels.services.guards import checked, lock_site


@recorded
def set_backup(
    *,
    site: Site,
    backed_up: Mapping[uuid.UUID, int | None],
    by: Person,
    revs: Mapping[uuid.UUID, int] | None = None,
) -> int:
    """Back up exactly these circuits of the site, each with its place in the shed order (1 goes
    first, equal numbers together, None is never shed). Returns how many circuits changed.

    `revs` are the revisions the choice was based on; any other change meanwhile is refused.
    """
    lock_site(site.pk)
    rows = Circuit.objects.filter(panel__site=site, panel__retired_at=None)
    circuits = {one.pk: one for one in rows.select_for_update(no_key=True, of=("self",))}
    unknown = set(backed_up) - set(circuits)
    if unknown:
        raise Invalid("unknown_circuit", _("One of these circuits is not there any more. Reload."))
    _check_revs(circuits, revs or {})
    changed = 0
    for key, circuit in circuits.items():
        wanted = (key in backed_up, backed_up.get(key))
        if (circuit.backed_up, circuit.shed_order) != wanted:
            _back_up(circuit, *wanted)
            changed += 1
    return changed


def _back_up(circuit: Circuit, backed_up: bool, order: int | None) -> None:
    if backed_up and circuit.kind == Circuit.Kind.SPARE:
        raise Invalid("spare_backed_up", _("A spare serves nothing, so it cannot be backed up."))
    circuit.backed_up, circuit.shed_order = backed_up, order
    checked(circuit, exclude=["slots", "panel"])
    circuit.save(update_fields=["backed_up", "shed_order"])


def _check_revs(circuits: Mapping[uuid.UUID, Circuit], revs: Mapping[uuid.UUID, int]) -> None:
    for key, rev in revs.items():
        if key in circuits and circuits[key].rev != rev:
            raise Stale(
                _("%(circuit)s was changed since you opened this list. Look again, then repeat.")
                % {"circuit": circuits[key]},
                current_rev=circuits[key].rev,
            )
