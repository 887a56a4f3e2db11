"""Backed-up circuits and their shed order, in one go."""

from __future__ import annotations

import pytest

from contractor.errors import Invalid, Stale
from panels.services import backup, circuits
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def test_exactly_these_circuits_are_backed_up_in_this_order():
    panel = a_panel()
    fridge, well, hall = (a_circuit(panel, space) for space in (1, 3, 5))
    assert (
        backup.set_backup(by=a_recorder(), site=panel.site, backed_up={fridge.pk: None, well.pk: 1})
        == 2
    )
    assert (
        backup.set_backup(by=a_recorder(), site=panel.site, backed_up={fridge.pk: None, hall.pk: 1})
        == 2
    )
    for circuit, expected in [(fridge, (True, None)), (well, (False, None)), (hall, (True, 1))]:
        circuit.refresh_from_db()
        assert (circuit.backed_up, circuit.shed_order) == expected
    assert fridge.rev == 2  # what stays as it is keeps its revision


def test_nothing_is_written_when_one_of_them_changed_meanwhile():
    panel = a_panel()
    fridge, well = a_circuit(panel, 1), a_circuit(panel, 3)
    circuits.change_circuit(by=a_recorder(), circuit=well, name="Well pump")
    with pytest.raises(Stale, match="Well pump was changed"):
        backup.set_backup(
            by=a_recorder(),
            site=panel.site,
            backed_up={fridge.pk: 1},
            revs={fridge.pk: 1, well.pk: 1},
        )
    fridge.refresh_from_db()
    assert not fridge.backed_up


def test_a_spare_or_a_circuit_elsewhere_cannot_be_backed_up():
    panel = a_panel()
    spare = a_circuit(panel, 1, kind="spare")
    with pytest.raises(Invalid, match="spare"):
        backup.set_backup(by=a_recorder(), site=panel.site, backed_up={spare.pk: 1})
    with pytest.raises(Invalid, match="not there any more"):
        backup.set_backup(by=a_recorder(), site=panel.site, backed_up={a_circuit(a_panel()).pk: 1})
    with pytest.raises(Invalid, match="greater than or equal to 1"):
        backup.set_backup(by=a_recorder(), site=panel.site, backed_up={a_circuit(panel, 3).pk: 0})
