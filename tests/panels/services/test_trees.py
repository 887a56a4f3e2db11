"""Is a site worked through from its record, and kept as it was?"""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from contractor.models import Site
from panels.services import load, trees
from panels.services.adoptions import basis_for
from panels.services.calculations import result_of
from panels.services.panels import change_panel
from tests.factories.jobs import NOW
from tests.factories.panels import a_panel, a_recorder
from tests.panels.sites import a_home_and_garage, adopted, an_entrance

pytestmark = pytest.mark.django_db


def basis(site: Site):
    adopted(site)
    return basis_for(site=site, on=NOW.date())


def test_the_roll_up_takes_the_homes_own_method(site: Site) -> None:
    a_home_and_garage(site)
    load.record_home(site=site, by=a_recorder(), floor_area_ft2=1800, service_a=200)
    study = trees.carried(site=site, basis=basis(site)).feeders
    assert study is not None
    assert study.dwelling is not None
    assert study.dwelling.method == "optional"
    assert [one.basis for one in study.panels] == ["by the dwelling's method", "as connected"]


def test_a_small_service_is_judged_by_the_standard_method(site: Site) -> None:
    a_home_and_garage(site)
    load.record_home(site=site, by=a_recorder(), floor_area_ft2=600, service_a=60)
    study = trees.carried(site=site, basis=basis(site)).feeders
    assert study is not None
    assert study.dwelling is not None
    assert study.dwelling.method == "standard"


def test_a_study_is_kept_with_what_went_in(site: Site) -> None:
    main, _garage = a_home_and_garage(site)
    an_entrance(site)
    adopted(site)
    by = a_recorder()
    made = trees.keep_available(site=site, choices={"tolerance": True}, by=by, now=NOW)
    change_panel(panel=main, by=by, interrupting_ka=5.0)
    assert made.inputs["tolerance"] is True
    assert result_of(made).value("main_rating") == "Fits"
    rolled = trees.keep_carried(site=site, by=by, now=NOW, purpose="permit EL-26-0317")
    assert (rolled.method, rolled.purpose) == ("feeders", "permit EL-26-0317")


def test_without_a_panel_there_is_nothing_to_work_out(site: Site) -> None:
    with pytest.raises(Refused, match="Record the panels"):
        trees.carried(site=site, basis=basis(site))


def test_a_transformer_at_the_service_asks_for_what_stands_ahead_of_it(site: Site) -> None:
    a_panel(site, transformer_kva=75.0, transformer_z_percent=4.0)
    with pytest.raises(Refused, match="ahead of that transformer"):
        trees.available(site=site, basis=basis(site), choices={})
