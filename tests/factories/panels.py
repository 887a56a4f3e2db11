"""Panels of Harrow Mills, recorded through the same services everyone uses."""

from __future__ import annotations

from typing import Any

from contractor.models import Person, Site
from panels.models import Circuit, Panel
from panels.services import circuits, panels
from tests.factories.contractor import SiteFactory, TechnicianFactory


def a_recorder() -> Person:
    """The technician who records everything here."""
    email = "reed@tallowcreek.example"
    known = Person.objects.filter(email=email).first()
    return known or TechnicianFactory(name="Reed Marlow", email=email)


def a_panel(site: Site | None = None, **nameplate: Any) -> Panel:
    """A 200 A, 42-space main breaker panel unless said otherwise."""
    said = {"name": "Main panel", "location": "Basement, north wall", "rating_a": 200}
    said |= {"bus_a": 200, "main_a": 200, "spaces": 42}
    said["by"] = a_recorder()
    return panels.add_panel(site=site or SiteFactory(), **(said | nameplate))


def a_circuit(panel: Panel, space: int = 1, **said: Any) -> Circuit:
    """A 20 A single-pole breaker unless said otherwise; a spare has no name."""
    kind = said.get("kind", Circuit.Kind.BRANCH)
    name = "" if kind == Circuit.Kind.SPARE else f"Outlets {space}{said.get('half', '')}"
    known = {"rating_a": 20, "name": name, "by": a_recorder()}
    return circuits.put_breaker(panel=panel, space=space, **(known | said))


def a_full_house(site: Site | None = None) -> tuple[Panel, Panel]:
    """A main panel with 30 circuits and a 24-space subpanel fed from it."""
    main = a_panel(site, tandem_spaces="21-42")
    sub = a_panel(main.site, name="Garage panel", rating_a=100, bus_a=100, main_a=None, spaces=24)
    a_circuit(main, 1, poles=2, rating_a=50, name="Range")
    a_circuit(main, 2, poles=2, rating_a=30, name="Dryer")
    a_circuit(main, 5, poles=2, rating_a=100, kind="feeder", name="Garage", feeds=sub)
    for space in (6, *range(8, 29)):
        a_circuit(main, space)
    a_circuit(main, 29, half="a")
    a_circuit(main, 29, half="b")
    a_circuit(main, 30, kind="spare")
    a_circuit(sub, 1, name="Garage receptacles")
    sub.refresh_from_db()
    return main, sub
