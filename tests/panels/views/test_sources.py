"""Sources of a site, and what stays on in an outage."""

from __future__ import annotations

import pytest
from django.urls import reverse

from panels.services import circuits, sources
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def text(answer):
    return " ".join(answer.content.decode().split())


def test_a_source_is_added_where_it_is_connected(browser, panel):
    spare = a_circuit(panel, 1, poles=2, kind="spare", rating_a=40)
    fill = {"kind": "storage", "name": "Garage battery", "circuit": spare.pk, "usable_kwh": "13.5"}
    answer = browser.post(reverse("source-add", args=[panel.site_id]), fill, follow=True)
    shown = text(answer)
    assert "Garage battery" in shown
    assert "Disconnect not recorded" in shown
    assert "13.5 kWh" in shown


def test_a_source_is_corrected_and_taken_off(browser, panel):
    source = sources.add_source(site=panel.site, kind="solar", name="Roof", by=a_recorder())
    page = reverse("source", args=[source.pk])
    fill = {"kind": "solar", "name": "Roof, south", "rev": source.rev, "disconnect_at": "by meter"}
    browser.post(page, fill)
    source.refresh_from_db()
    assert (source.name, source.disconnect_at) == ("Roof, south", "by meter")
    wrong = browser.post(page, fill | {"rev": source.rev, "rated_kva": "7", "surge_kva": "5"})
    assert "Surge output cannot be less" in text(wrong)
    assert "Take Roof, south off the record?" in text(
        browser.get(reverse("source-remove", args=[source.pk]))
    )
    browser.post(reverse("source-remove", args=[source.pk]))
    assert not panel.site.sources.exists()


def backup(browser, site, rows, **said):
    fill = {}
    for circuit, (keep, order) in rows.items():
        fill |= {f"rev-{circuit.pk}": circuit.rev, f"order-{circuit.pk}": order}
        fill |= {f"keep-{circuit.pk}": "on"} if keep else {}
    return browser.post(reverse("backup", args=[site.pk]), fill | said, follow=True)


def test_backup_and_shed_order_are_said_in_one_go(browser, panel):
    fridge, well, hall = (a_circuit(panel, space) for space in (1, 3, 5))
    a_circuit(panel, 7, kind="spare")
    sub = a_panel(panel.site, name="Garage panel")
    freezer = a_circuit(sub, 1, name="Freezer")
    rows = {fridge: (True, ""), well: (True, "1"), hall: (False, "2"), freezer: (True, "2")}
    assert "Circuits changed: 3" in text(backup(browser, panel.site, rows))
    for circuit in rows:
        circuit.refresh_from_db()
    assert [(one.backed_up, one.shed_order) for one in rows] == [
        (True, None), (True, 1), (False, None), (True, 2),
    ]  # fmt: skip


def test_a_circuit_changed_meanwhile_stops_it(browser, panel):
    fridge, well = a_circuit(panel, 1), a_circuit(panel, 3)
    circuits.change_circuit(circuit=well, name="Well pump", by=a_recorder())
    answer = backup(browser, panel.site, {fridge: (True, "1"), well: (True, "")})
    assert "Well pump was changed since you opened this list" in text(answer)
    fridge.refresh_from_db()
    assert not fridge.backed_up


def test_a_number_that_is_none_is_told_at_its_circuit(browser, panel):
    fridge = a_circuit(panel, 1, name="Fridge")
    answer = backup(browser, panel.site, {fridge: (True, "0")})
    assert answer.status_code == 422
    assert "greater than or equal to 1" in text(answer)


def test_a_site_without_circuits_says_what_to_do_first(browser, site):
    assert "Record the panels first" in text(browser.get(reverse("backup", args=[site.pk])))
