"""Is a service entrance kept as it was said, and refused in words where it cannot be?"""

from __future__ import annotations

from typing import Any

import pytest

from contractor.errors import Invalid, Stale
from contractor.models import Site
from panels.models import ServiceEntrance
from panels.services.entrance import record_entrance
from tests.factories.panels import a_recorder
from tests.panels.sites import an_entrance

pytestmark = pytest.mark.django_db


def test_an_entrance_is_recorded_once_and_corrected(site: Site) -> None:
    made = an_entrance(site)
    again = record_entrance(site=site, by=a_recorder(), rev=made.rev, available_ka=18.0)
    assert (again.pk, again.available_ka, again.wire_size) == (made.pk, 18.0, "4/0")
    assert ServiceEntrance.objects.count() == 1


def test_a_correction_on_an_old_revision_is_refused(site: Site) -> None:
    made = an_entrance(site)
    record_entrance(site=site, by=a_recorder(), rev=made.rev, available_ka=18.0)
    with pytest.raises(Stale):
        record_entrance(site=site, by=a_recorder(), rev=made.rev, available_ka=19.0)


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"stated_by": ""}, "stated_by"),
        ({"transformer_kva": 50.0}, "transformer_z_percent"),
        ({"transformer_z_percent": 2.0}, "transformer_kva"),
        ({"wire_size": "7"}, "wire_size"),
        ({"grounding_size": "450"}, "grounding_size"),
        ({"available_ka": 0.0}, "available_ka"),
        ({"wire_sets": 0}, "wire_sets"),
        ({"occupancy": "castle"}, "occupancy"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(
    site: Site, said: dict[str, Any], field: str
) -> None:
    with pytest.raises(Invalid) as refused:
        an_entrance(site, **said)
    assert set(refused.value.fields) == {field}
    assert not ServiceEntrance.objects.exists()
