"""The demo's customers and sites, and the panels recorded there."""

from __future__ import annotations

import datetime as dt

from contractor.models import Authority, Customer, Person, Site, Utility
from contractor.services import customers, sites
from followups.demo import rows
from panels.models import Circuit, Panel
from panels.services import circuits, panels, sources

CUSTOMER = ("name", "phone", "email")
ADDRESS = ("street", "city", "state", "zip")


def load_places(*, by: Person, now: dt.datetime) -> dict[str, Site]:
    """All customers and sites; returns each customer's first site by its list number."""
    authorities = {authority.name: authority for authority in Authority.objects.all()}
    utilities = {utility.name: utility for utility in Utility.objects.all()}
    found: dict[str, Site] = {}
    for row in rows("customers-and-sites.csv"):
        customer = Customer.objects.filter(list_key=row["number"]).first()
        if customer is None:
            values = {name: row[name] for name in (*CUSTOMER, *ADDRESS)} | {
                "list_key": row["number"]
            }
            customer = customers.add_customer(values=values, by=by, now=now)
        site = sites.add_site(
            customer=customer,
            values={name: row[name] for name in ADDRESS}
            | {
                "label": row["site"],
                "latitude": float(row["latitude"]),
                "longitude": float(row["longitude"]),
                "authority": authorities[row["authority"]],
                "utility": utilities[row["utility"]],
                "access_notes": row["access"],
                "pet_notes": row["pets"],
            },
            by=by,
            now=now,
        )
        found.setdefault(row["number"], site)
    return found


def load_panels(*, sites: dict[str, Site], by: Person) -> None:
    """Every panel with its circuits; a subpanel after the feeder that feeds it."""
    hanging: dict[tuple[str, str], list[dict[str, str]]] = {}
    for row in rows("circuits.csv"):
        hanging.setdefault((row["site"], row["panel"]), []).append(row)
    for row in rows("panels.csv"):
        site = sites[row["site"]]
        panel = _panel(row, site, by)
        for circuit in hanging.get((row["site"], row["panel"]), []):
            _circuit(circuit, panel, by)


def _panel(row: dict[str, str], site: Site, by: Person) -> Panel:
    feeder = None
    if row["fed_from_space"]:
        main = Panel.objects.get(site=site, fed_from=None)
        feeder = main.circuits.get(space=int(row["fed_from_space"]))
    return panels.add_panel(
        by=by,
        site=site,
        circuit=feeder,
        name=row["panel"],
        location=row["location"],
        mounting=row["mounting"],
        outdoors=bool(row["outdoors"]),
        system=row["system"],
        rating_a=int(row["rating"]),
        bus_a=int(row["bus"]),
        main_a=int(row["main"]) if row["main"] else None,
        spaces=int(row["spaces"]),
        interrupting_ka=float(row["short_circuit_ka"]),
        feed_through_lugs=bool(row["feed_through_lugs"]),
        directory_at="Inside of the door",
    )


KINDS = {
    "circuit": Circuit.Kind.BRANCH,
    "feeder": Circuit.Kind.FEEDER,
    "source": Circuit.Kind.SOURCE,
    "spare": Circuit.Kind.SPARE,
}


def _circuit(row: dict[str, str], panel: Panel, by: Person) -> Circuit:
    half = row["space"][-1] if row["space"][-1].isalpha() else ""
    return circuits.put_breaker(
        by=by,
        panel=panel,
        space=int(row["space"].rstrip("ab")),
        half=half,
        poles=int(row["poles"]),
        rating_a=int(row["breaker"]),
        kind=KINDS[row["kind"]],
        name=row["serves"],
        protection=row["protection"],
        wire_size=row["wire"],
        wire_material=row["metal"],
        length_ft=float(row["length_ft"]) if row["length_ft"] else None,
        serves=row["outlets"],
        areas=row["rooms"].split(),
        raceway=row["raceway"],
        interrupting_ka=_number(row["ka"]),
        backed_up=bool(row["backed_up"]),
        shed_order=int(row["shed_order"]) if row["shed_order"] else None,
    )


def load_sources(*, sites: dict[str, Site], by: Person) -> None:
    """Storage, solar, generators and vehicle supply equipment, at the circuits that carry them."""
    for row in rows("sources.csv"):
        site = sites[row["site"]]
        circuit = Circuit.objects.get(panel__site=site, name=row["circuit"])
        sources.add_source(
            by=by,
            site=site,
            kind=row["kind"],
            name=row["name"],
            circuit=circuit,
            location=row["location"],
            disconnect_at=row["disconnect_at"],
            fuel=row["fuel"],
            rated_a=_number(row["rated_a"]),
            rated_kva=_number(row["rated_kva"]),
            surge_kva=_number(row["surge_kva"]),
            usable_kwh=_number(row["usable_kwh"]),
            peak_kw=_number(row["peak_kw"]),
            position=row["position"],
            labelled=True if row["labelled"] else None,
            transfer=row["transfer"],
            altitude_ft=_number(row["altitude_ft"]),
            fuel_unit=row["fuel_unit"],
            fuel_full_per_h=_number(row["fuel_full_per_h"]),
            fuel_half_per_h=_number(row["fuel_half_per_h"]),
        )


def _number(text: str) -> float | None:
    return float(text) if text else None
