"""Does a label say the figure and the day, and only where a marking is asked?"""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from contractor.models import Site
from panels.services import markings, trees
from panels.services.calculations import result_of
from tests.factories.jobs import NOW
from tests.factories.panels import a_recorder
from tests.panels import reading
from tests.panels.sites import a_home_and_garage, adopted, an_entrance

pytestmark = pytest.mark.django_db


def kept(site: Site, occupancy: str):
    a_home_and_garage(site)
    an_entrance(site, occupancy=occupancy)
    adopted(site)
    return trees.keep_available(site=site, choices={}, by=a_recorder(), now=NOW)


def test_a_shop_gets_a_label_for_the_service_and_each_panel(site: Site) -> None:
    made = kept(site, "other")
    text = reading.text(markings.label(made))
    result = result_of(made)
    for key in ("marking", "mark_panel", "mark_panel_2"):
        assert result.line(key).shown in text
    assert "Service equipment" in text
    assert "Garage" in text
    assert "not an arc-flash study" in text
    assert str(NOW.year) in text


def test_a_home_gets_none(site: Site) -> None:
    made = kept(site, "one_family")
    assert not markings.is_asked(made)
    with pytest.raises(Refused, match="no marking"):
        markings.label(made)
