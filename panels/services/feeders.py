"""What feeds a panel: a breaker in another one, its feed-through lugs, or the service."""

from __future__ import annotations

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from panels.models import Circuit, Panel
from panels.rules import tree
from panels.services.guards import lock, lock_panel


@recorded
def feed_panel(
    *,
    panel: Panel,
    circuit: Circuit | None = None,
    through: Panel | None = None,
    by: Person,
    rev: int | None = None,
) -> Panel:
    """Say what feeds the panel: a breaker, another panel's feed-through lugs, or (neither) the
    service. A branch circuit becomes a feeder by it. Raises Stale, Invalid and Refused.
    """
    panel = lock_panel(panel)
    panel.require_rev(rev)
    if circuit is not None and through is not None:
        raise Invalid("fed_twice", _("A panel is fed one way: by a breaker or through lugs."))
    source = circuit.panel if circuit else through
    if source is not None:
        _check_source(panel, lock(source), lugs=through is not None)
    if circuit is not None:
        circuit = lock(circuit)
        _check_breaker(panel, circuit)
    panel.fed_from, panel.fed_through = circuit, through
    panel.save()
    panel.refresh_from_db()
    return panel


def _check_source(panel: Panel, source: Panel, *, lugs: bool) -> None:
    names = {"panel": panel.name, "source": source.name}
    if source.site_id != panel.site_id:
        raise _refused(
            "other_site",
            _("%(source)s is at another site; a feeder cannot come from there.") % names,
        )
    if source.retired_at:
        raise _refused("panel_retired", _("%(source)s is retired and feeds nothing.") % names)
    if lugs and not source.feed_through_lugs:
        raise _refused(
            "no_lugs",
            _("%(source)s has no feed-through lugs on record. Correct that panel first.") % names,
        )
    _check_loop(panel, source)


def _check_loop(panel: Panel, source: Panel) -> None:
    live = Panel.objects.filter(site_id=panel.site_id, retired_at=None).select_related("fed_from")
    by_key = {one.pk: one for one in live}
    parents = {one.pk: one.upstream_id for one in by_key.values()}
    loop = tree.loop(parents, panel=panel.pk, fed_from=source.pk)
    if loop:
        way = " → ".join(by_key[key].name for key in loop)
        raise _refused(
            "feeder_loop",
            _("That would close a loop: %(way)s. A panel cannot feed itself.") % {"way": way},
        )


def _check_breaker(panel: Panel, circuit: Circuit) -> None:
    fed = Panel.objects.filter(fed_from=circuit).exclude(pk=panel.pk).first()
    if fed is not None:
        raise _refused(
            "feeds_another",
            _("%(circuit)s already feeds %(panel)s.") % {"circuit": circuit, "panel": fed},
        )
    if circuit.kind != Circuit.Kind.FEEDER:
        circuit.kind = Circuit.Kind.FEEDER
        circuit.name = circuit.name or panel.name
        circuit.save()


def _refused(code: str, sentence: str) -> Refused:
    return Refused(code, sentence, fields={"fed_from": sentence})
