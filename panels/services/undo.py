"""Take back the last thing done to a circuit, from the history the database keeps."""

from __future__ import annotations

import uuid
from typing import Any

from django.apps import apps
from django.db import models
from django.utils.translation import gettext as _

from contractor.errors import Refused, Stale
from contractor.history import recorded
from contractor.models import Person
from panels.models import Circuit, Load, Panel, Reading
from panels.services import feeders
from panels.services.circuits import CHANGES, change_circuit, remove_circuit
from panels.services.guards import lock_panel
from panels.services.seating import last_guard, take_seat


@recorded
def undo_circuit(*, panel: Panel, circuit_id: uuid.UUID, by: Person, rev: int) -> Circuit | None:
    """Undo the change that made revision `rev`: a breaker put in comes out (None), one taken
    out goes back to its space with its readings and loads, a changed one is as it was before.

    Refused when something else happened to it, or to its space, meanwhile.
    """
    panel = lock_panel(panel)
    told = _events("CircuitEvent", circuit_id, panel=panel)
    last = told.first()
    if last is None:
        raise Refused("nothing_to_undo", _("There is nothing to take back here."))
    if last.rev != rev:
        raise Stale(_("Something else was changed here meanwhile."), current_rev=last.rev)
    if last.pgh_label == "delete":
        return _put_back(panel, last)
    circuit = Circuit.objects.get(pk=circuit_id)
    if last.pgh_label == "insert":
        _unfeed(circuit, by)
        remove_circuit(circuit=circuit, by=by)
        return None
    before = told.filter(rev__lt=last.rev).first()
    if before is None:
        raise Refused("nothing_to_undo", _("What was there before is not on record."))
    return change_circuit(
        circuit=circuit, by=by, **{name: getattr(before, name) for name in CHANGES}
    )


def _put_back(panel: Panel, gone: Any) -> Circuit:
    """The row as it was deleted, one revision on, so that no revision means two things."""
    circuit = Circuit(id=gone.pgh_obj_id, panel=panel, rev=gone.rev + 1)
    for name in CHANGES:
        setattr(circuit, name, getattr(gone, name))
    take_seat(circuit, panel=panel)
    with last_guard(panel, circuit):
        circuit.save(force_insert=True)
    lost = _model("ReadingEvent").objects.filter(circuit_id=circuit.pk).values("pgh_obj_id")
    Reading.objects.filter(pk__in=lost, circuit=None).update(circuit=circuit)
    let_go = _model("LoadEvent").objects.filter(pgh_context=gone.pgh_context_id, circuit=None)
    Load.objects.filter(pk__in=let_go.values("pgh_obj_id"), circuit=None).update(circuit=circuit)
    return circuit


def _unfeed(circuit: Circuit, by: Person) -> None:
    fed = Panel.objects.filter(fed_from=circuit).first()
    if fed is not None:
        feeders.feed_panel(panel=fed, by=by)


def _events(model: str, key: uuid.UUID, *, panel: Panel) -> models.QuerySet[Any]:
    rows: models.QuerySet[Any] = _model(model).objects.filter(pgh_obj_id=key, panel_id=panel.pk)
    return rows.order_by("-pgh_id")


def _model(name: str) -> Any:
    return apps.get_model("panels", name)
