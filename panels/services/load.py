"""Keep what a load calculation needs to know about a home: its facts and its loads, once."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Any, TypedDict, Unpack

from django.apps import apps
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import Circuit, Home, Load, Shop
from panels.queries.premises import load_rules, premises_at
from panels.rules.description import BETWEEN_LEGS, RESISTIVE, load_from
from panels.rules.dwelling import Kind
from panels.rules.errors import BadDescription
from panels.rules.fields import Fields
from panels.services.guards import checked, lock, lock_site, put_in
from panels.services.premises import only_one

FLAGS = ("motor", "controlled_separately", "locked_out", "continuous", "managed", "new")


class Facts(TypedDict, total=False):
    """What is asked about the dwelling itself."""

    floor_area_ft2: float
    small_appliance_circuits: int
    laundry_circuits: int
    system: str
    service_a: int | None
    is_feeder: bool
    managed_a: float | None
    bathrooms: int | None
    has_garage: bool | None


class Nameplate(TypedDict, total=False):
    """What a load's nameplate says, and what the code asks about it."""

    circuit: Circuit | None
    kind: str
    name: str
    nameplate: float | None
    unit: str
    volts: float | None
    power_factor: float | None
    count: int
    leg: str
    motor: bool
    horsepower: float | None
    starting_a: float | None
    controlled_separately: bool
    locked_out: bool
    continuous: bool
    managed: bool
    new: bool
    one_of: str
    phases: int


@recorded
def record_home(
    *, site: Site, by: Person, id: uuid.UUID | None = None, rev: int | None = None,
    instead: bool = False, **facts: Unpack[Facts],
) -> Home:  # fmt: skip
    """The dwelling's facts, made or corrected. Raises Invalid field by field, and Stale.

    Refused where the site is on record as a shop, unless the home is to stand `instead` of it.
    """
    site = lock_site(site.pk)
    only_one(Shop.objects.filter(site=site).first(), instead=instead)
    home = Home.objects.select_for_update().filter(site=site).first()
    if home is None:
        home = Home(id=id or uuid.uuid4(), site=site)
    else:
        home.require_rev(rev)
    put_in(home, dict(facts), allowed=Facts.__annotations__)
    checked(home, exclude=["site"])
    home.save()
    home.refresh_from_db()
    return home


@recorded
def add_load(
    *, site: Site, by: Person, id: uuid.UUID | None = None, **said: Unpack[Nameplate]
) -> Load:
    """Record a load. Refused in words when its nameplate cannot be counted as it stands."""
    site = lock_site(site.pk)
    load = Load(id=id or uuid.uuid4(), site=site)
    _take(load, said)
    load.save(force_insert=True)
    return load


@recorded
def change_load(
    *, load: Load, by: Person, rev: int | None = None, **said: Unpack[Nameplate]
) -> Load:
    lock_site(load.site_id)
    load = lock(load)
    load.require_rev(rev)
    _take(load, said)
    load.save()
    load.refresh_from_db()
    return load


@recorded
def remove_load(*, load: Load, by: Person, rev: int | None = None) -> None:
    lock_site(load.site_id)
    load = lock(load)
    load.require_rev(rev)
    load.delete()


@recorded
def restore_load(*, site: Site, load_id: uuid.UUID, by: Person) -> Load:
    """Put back a load that was taken out, as the database's history has it."""
    site = lock_site(site.pk)
    events = apps.get_model("panels", "LoadEvent").objects.filter(pgh_obj_id=load_id, site_id=site)
    gone = events.order_by("-pgh_id").first()
    if gone is None or gone.pgh_label != "delete":
        raise Refused("nothing_to_undo", _("There is nothing to take back here."))
    load = Load(id=load_id, site=site, rev=gone.rev + 1)
    for name in Nameplate.__annotations__:
        if name != "circuit":
            setattr(load, name, getattr(gone, name))
    load.circuit = Circuit.objects.filter(pk=gone.circuit_id, panel__site=site).first()
    load.save(force_insert=True)
    return load


def described(home: Home, loads: Iterable[Load]) -> dict[str, Any]:
    """The dwelling as `panels.rules.description` reads it; also kept with a calculation."""
    plain: dict[str, Any] = {
        "floor_area": {"value": home.floor_area_ft2, "unit": "ft2"},
        "small_appliance_circuits": home.small_appliance_circuits,
        "laundry_circuits": home.laundry_circuits,
        "service": {"system": home.system, "feeder": home.is_feeder},
        "loads": [described_load(load) for load in loads],
    }
    if home.service_a:
        plain["service"]["rating"] = {"value": home.service_a, "unit": "A"}
    if home.managed_a:
        plain["managed_at"] = {"value": home.managed_a, "unit": "A"}
    return plain


def described_load(load: Load) -> dict[str, Any]:
    """One load in plain values; what does not apply is left out."""
    plain: dict[str, Any] = {"kind": load.kind, "name": load.name, "count": load.count}
    if load.nameplate is not None:
        plain["nameplate"] = {"value": load.nameplate, "unit": load.unit}
    for name in ("volts", "power_factor", "horsepower", "leg", "one_of"):
        if getattr(load, name):
            plain[name] = getattr(load, name)
    if load.phases == 3:
        plain["phases"] = load.phases
    return plain | {name: True for name in FLAGS if getattr(load, name)}


def _take(load: Load, said: Nameplate) -> None:
    put_in(load, dict(said), allowed=Nameplate.__annotations__)
    load.name = load.name or load.get_kind_display().capitalize()
    checked(load, exclude=["site", "circuit"])
    if load.circuit and load.circuit.panel.site_id != load.site_id:
        sentence = _("Choose a circuit of a panel at this site.")
        raise Invalid("other_site", sentence, fields={"circuit": sentence})
    check_load(load)


def check_load(load: Load) -> None:
    """Refuse, at the field of the form, what could not be counted at this site."""
    _check_nameplate(load)
    service, kinds = load_rules(premises_at(load.site))
    try:
        load_from(Fields(plain=described_load(load)), service, kinds=kinds)
    except BadDescription as fault:
        raise _in_words(fault) from fault


def _check_nameplate(load: Load) -> None:
    """The usual slips, in the words of the form; the rules refuse the rest."""
    kind = Kind(load.kind)
    if load.nameplate is None and kind is not Kind.VEHICLE:
        raise _at("nameplate", _("Read it off the nameplate; a breaker’s rating is not a load."))
    if load.volts is None and (kind not in BETWEEN_LEGS or load.unit == Load.Unit.AMPERE):
        raise _at("volts", _("Say the voltage on the nameplate, e.g. 120 or 240."))
    in_watts = load.unit in (Load.Unit.WATT, Load.Unit.KILOWATT)
    if in_watts and not load.power_factor and kind not in RESISTIVE:
        raise _at(
            "power_factor",
            _("Watts count only with a power factor: 1 for a resistance. Or give VA or A."),
        )


def _at(field: str, sentence: str) -> Invalid:
    return Invalid("nameplate", sentence, fields={field: sentence})


def _in_words(fault: BadDescription) -> Invalid:
    """The fault at its field of the form, without the rule's own name for it."""
    field = fault.field.split(".")[-1]
    field = {"apparent": "nameplate"}.get(field, field)
    sentence = next(iter(fault.fields.values()))
    return Invalid("bad_description", sentence, fields={field: sentence})
