"""The one-line: each panel under what feeds it."""

from __future__ import annotations

import pytest

from panels.queries import records
from panels.services import feeders, sources
from panels.views.one_line import one_line
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def drawn(site):
    return one_line(list(records.panels_of(site)), list(records.sources_of(site)))


def test_panels_hang_under_what_feeds_them_and_sources_at_their_breakers():
    main, sub = a_full_house()
    shed = a_panel(main.site, name="Shed panel", rating_a=60)
    a_circuit(sub, 3, poles=2, rating_a=60, kind="feeder", feeds=shed)
    spare = a_circuit(sub, 2, poles=2, kind="spare", rating_a=40)
    sources.add_source(
        site=main.site, kind="storage", name="Battery", circuit=spare, by=a_recorder()
    )
    sources.add_source(site=main.site, kind="vehicle", name="Car outlet", by=a_recorder())
    found = drawn(main.site)
    assert [(node.label, node.depth, node.breaker, node.symbol) for node in found.nodes] == [
        ("Main panel", 1, "", ""),
        ("Garage panel", 2, "100 A", ""),
        ("Battery", 3, "40 A", "B"),
        ("Shed panel", 3, "60 A", ""),
    ]
    assert [source.name for source in found.elsewhere] == ["Car outlet"]


def test_every_branch_leaves_a_riser_that_reaches_it():
    main, sub = a_full_house()
    shed = a_panel(main.site, name="Shed panel")
    second = a_panel(main.site, name="Second service")
    feeders.feed_panel(panel=shed, circuit=a_circuit(main, 31, poles=2), by=a_recorder())
    found = drawn(main.site)
    assert {sub.name, second.name} <= {node.label for node in found.nodes}
    for node in found.nodes:
        assert any(
            x == node.branch_x and start < node.y <= end for x, start, end in found.risers
        ), node.label
    assert found.height > max(node.y for node in found.nodes)


def test_a_site_without_panels_draws_only_the_service():
    site = a_panel().site
    site.panels.all().delete()
    assert drawn(site).nodes == []
