"""Panels are added, corrected, fed and retired."""

from __future__ import annotations

import pytest
from django.utils import timezone

from contractor.errors import Invalid, Refused, Stale
from panels.services import feeders, panels, sources
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def test_a_panel_is_recorded_with_its_nameplate():
    panel = panels.add_panel(
        by=a_recorder(), site=SiteFactory(), name=" Main  panel ", rating_a=200, spaces=42
    )
    assert (panel.name, panel.bus_a, panel.main_a) == ("Main panel", 200, None)


@pytest.mark.parametrize(
    ("said", "field", "words"),
    [
        ({"name": "main PANEL"}, "name", "already has a panel called"),
        ({"name": ""}, "name", "blank"),
        ({"spaces": 0}, "spaces", "greater than or equal to 1"),
        ({"spaces": 85}, "spaces", "less than or equal to 84"),
        ({"system": "dc"}, "system", "not a valid choice"),
        ({"tandem_spaces": "30-60"}, "tandem_spaces", "no space 43"),
        ({"rating_a": 9999}, "rating_a", "6000"),
    ],
)
def test_a_nameplate_that_cannot_be_is_refused_at_its_field(said, field, words):
    site = a_panel().site
    with pytest.raises(Invalid, match=words) as refused:
        a_panel(site, **({"name": "Other"} | said))
    assert field in refused.value.fields
    assert site.panels.count() == 1


def test_a_correction_needs_its_revision():
    panel = a_panel()
    assert panels.change_panel(by=a_recorder(), panel=panel, rev=1, location="Garage").rev == 2
    with pytest.raises(Stale):
        panels.change_panel(by=a_recorder(), panel=panel, rev=1, location="Attic")


def test_other_numbers_seat_every_breaker_anew():
    panel = a_panel(spaces=8)
    pair = a_circuit(panel, 1, poles=2)
    single = a_circuit(panel, 6)
    panels.change_panel(by=a_recorder(), panel=panel, numbering="down")
    pair.refresh_from_db()
    single.refresh_from_db()
    panel.refresh_from_db()
    assert pair.seat_in(panel.frame).text == "1,2"
    assert pair.slots == ((0, 4),)
    assert single.slots == ((1002, 1004),)


def test_other_numbers_that_would_collide_are_refused_naming_who():
    panel = a_panel(spaces=8)
    a_circuit(panel, 1, poles=2, name="Range")
    a_circuit(panel, 2, name="Hall")
    with pytest.raises(Refused, match=r"Hall in space 2 stands in the way.*Range") as refused:
        panels.change_panel(by=a_recorder(), panel=panel, numbering="down")
    assert "numbering" in refused.value.fields
    panel.refresh_from_db()
    assert panel.numbering == "across"


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"spaces": 24}, "spaces", "Shop in space 39 .* no space 39"),
        ({"tandem_spaces": "none"}, "tandem_spaces", "Hall in space 5 .* does not take a tandem"),
        ({"system": "1ph-240"}, "system", "Shop in space 39 .* needs 3 legs"),
    ],
)
def test_a_backplate_that_does_not_hold_what_sits_on_it_is_refused(change, field, words):
    panel = a_panel(system="3ph-208", spaces=44)
    a_circuit(panel, 39, poles=3, name="Shop")
    a_circuit(panel, 5, half="a", name="Hall")
    with pytest.raises(Refused, match=words) as refused:
        panels.change_panel(by=a_recorder(), panel=panel, **change)
    assert field in refused.value.fields


def test_feeders_make_a_tree_and_never_a_loop():
    main = a_panel()
    garage = a_panel(main.site, name="Garage")
    shop = a_panel(main.site, name="Shop")
    a_circuit(main, 1, poles=2, rating_a=100, feeds=garage, kind="feeder")
    a_circuit(garage, 1, poles=2, rating_a=60, feeds=shop, kind="feeder")
    back = a_circuit(shop, 1, poles=2, rating_a=60, name="Back")
    with pytest.raises(Refused, match="Main panel → Garage → Shop → Main panel"):
        feeders.feed_panel(by=a_recorder(), panel=main, circuit=back)
    with pytest.raises(Refused, match="Shop → Shop"):
        feeders.feed_panel(by=a_recorder(), panel=shop, circuit=back)
    back.refresh_from_db()
    assert back.kind == "branch"


def test_a_feeder_comes_from_a_panel_in_use_at_the_same_site_and_feeds_one():
    main = a_panel()
    garage = a_panel(main.site, name="Garage")
    shop = a_panel(main.site, name="Shop")
    feeder = a_circuit(main, 1, poles=2, rating_a=100, feeds=garage, kind="feeder")
    elsewhere = a_circuit(a_panel(), 1, poles=2)
    with pytest.raises(Refused, match="at another site"):
        feeders.feed_panel(by=a_recorder(), panel=shop, circuit=elsewhere)
    with pytest.raises(Refused, match="already feeds Garage"):
        feeders.feed_panel(by=a_recorder(), panel=shop, circuit=feeder)
    with pytest.raises(Refused, match="no feed-through lugs"):
        feeders.feed_panel(by=a_recorder(), panel=shop, through=garage)


def test_feed_through_lugs_feed_and_cannot_be_taken_away_then():
    main = a_panel(feed_through_lugs=True)
    shop = a_panel(main.site, name="Shop")
    feeders.feed_panel(by=a_recorder(), panel=shop, through=main)
    with pytest.raises(Refused, match="Shop is fed from these lugs"):
        panels.change_panel(by=a_recorder(), panel=main, feed_through_lugs=False)
    with pytest.raises(Refused, match="Main panel → Shop → Main panel"):
        feeders.feed_panel(by=a_recorder(), panel=main, circuit=a_circuit(shop, 1, poles=2))
    feeders.feed_panel(by=a_recorder(), panel=shop)
    panels.change_panel(by=a_recorder(), panel=main, feed_through_lugs=False)


def test_a_panel_is_retired_once_nothing_hangs_on_it_and_its_feeder_is_free_then():
    main = a_panel()
    old = a_panel(main.site, name="Garage")
    feeder = a_circuit(main, 1, poles=2, rating_a=100, feeds=old, kind="feeder")
    battery = sources.add_source(
        by=a_recorder(),
        site=main.site,
        kind="storage",
        name="Battery",
        circuit=a_circuit(old, 1, poles=2),
    )
    with pytest.raises(Refused, match="Main panel feeds Garage"):
        panels.retire_panel(by=a_recorder(), panel=main, now=timezone.now())
    with pytest.raises(Refused, match="Battery is connected to Garage"):
        panels.retire_panel(by=a_recorder(), panel=old, now=timezone.now())
    sources.change_source(by=a_recorder(), source=battery, circuit=None)
    panels.retire_panel(by=a_recorder(), panel=old, now=timezone.now())
    new = a_panel(main.site, name="Garage")
    assert feeders.feed_panel(by=a_recorder(), panel=new, circuit=feeder).fed_from == feeder
