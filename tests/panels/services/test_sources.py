"""Storage, solar, generators and vehicle supply on the record."""

from __future__ import annotations

import pytest

from contractor.errors import Invalid, Stale
from panels.services import sources
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def test_a_source_marks_its_breaker_and_a_vehicle_only_draws():
    panel = a_panel()
    spare = a_circuit(panel, 1, poles=2, kind="spare", rating_a=40)
    sources.add_source(
        by=a_recorder(), site=panel.site, kind="solar", name="Roof", rated_a=32, circuit=spare
    )
    outlet = a_circuit(panel, 2, poles=2, rating_a=60, name="Vehicle")
    sources.add_source(
        by=a_recorder(), site=panel.site, kind="vehicle", name="Wall unit", circuit=outlet
    )
    spare.refresh_from_db()
    outlet.refresh_from_db()
    assert (spare.kind, spare.name) == ("source", "Roof")
    assert outlet.kind == "branch"


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"kind": "windmill"}, "kind"),
        ({"name": ""}, "name"),
        ({"rated_kva": -1}, "rated_kva"),
        ({"rated_kva": 7, "surge_kva": 5}, "surge_kva"),
    ],
)
def test_a_source_that_cannot_be_is_refused_at_its_field(said, field):
    panel = a_panel()
    with pytest.raises(Invalid) as refused:
        sources.add_source(
            by=a_recorder(), site=panel.site, **({"kind": "storage", "name": "Battery"} | said)
        )
    assert field in refused.value.fields


def test_a_source_connects_at_its_own_site():
    with pytest.raises(Invalid, match="panel in use at this site"):
        sources.add_source(
            by=a_recorder(),
            site=a_panel().site,
            kind="solar",
            name="Roof",
            circuit=a_circuit(a_panel()),
        )


def test_a_source_is_corrected_and_removed_by_revision():
    source = sources.add_source(
        by=a_recorder(), site=a_panel().site, kind="generator", name="Generator", fuel="gas"
    )
    assert sources.change_source(by=a_recorder(), source=source, rev=1, fuel="propane").rev == 2
    with pytest.raises(Stale):
        sources.remove_source(by=a_recorder(), source=source, rev=1)
    sources.remove_source(by=a_recorder(), source=source, rev=2)
    assert not source.site.sources.exists()
