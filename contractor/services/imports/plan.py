"""What would taking in this list add, change and leave alone?"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Q
from django.db.models.functions import Lower
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.duplicates import Who, likeness, plain_name
from contractor.lists import Row, fit
from contractor.lists.customers import COLUMNS
from contractor.models import Customer
from contractor.queries.duplicates import who
from contractor.services.imports.parse import (
    CUSTOMER_HEADERS,
    SITE_HEADERS,
    Entry,
    Identity,
    Names,
    Problem,
    every_identity,
    identities,
    place,
    understand,
)
from contractor.services.saving import differing


class Verb(enum.Enum):
    ADD = "add"
    CHANGE = "change"
    SAME = "same"

    @property
    def label(self) -> str:
        return str(_VERBS[self])


_VERBS = {
    Verb.ADD: gettext_lazy("new"),
    Verb.CHANGE: gettext_lazy("changed"),
    Verb.SAME: gettext_lazy("unchanged"),
}


@dataclass(frozen=True)
class Change:
    header: str
    was: Any
    now: Any


@dataclass
class Part:
    """What the list says of one customer or one site, beside the record of it, if there is one."""

    line: int
    headers: Mapping[str, str]
    values: dict[str, Any] = field(default_factory=dict)
    record: Any = None

    @property
    def verb(self) -> Verb:
        if self.record is None:
            return Verb.ADD
        return Verb.CHANGE if differing(self.record, self.values) else Verb.SAME

    @property
    def changes(self) -> list[Change]:
        if self.record is None:
            return []
        return [
            Change(self.headers[name], getattr(self.record, name), self.values[name])
            for name in differing(self.record, self.values)
        ]

    def join(self, more: Mapping[str, Any], line: int) -> list[Problem]:
        """Add what another row says; where it contradicts this one, that row is blamed."""
        have = self.values
        names = [name for name, value in more.items() if have.setdefault(name, value) != value]
        says = _("Line %s says something else about the same customer or site.") % self.line
        return [Problem(line, self.headers[name], says) for name in names]


@dataclass
class Group(Part):
    """One customer of the list, from all the rows that mean them."""

    sites: dict[tuple[str, str], Part] = field(default_factory=dict)
    looks_like: Customer | None = None
    added: Customer | None = None


@dataclass(frozen=True)
class Step:
    """What becomes of one row; the customer's own change is told at its first row."""

    line: int
    group: Group
    site: Part | None
    is_first: bool
    doubts: list[str]

    @property
    def parts(self) -> list[Part]:
        return [part for part in (self.group if self.is_first else None, self.site) if part]

    @property
    def verb(self) -> Verb:
        verbs = {part.verb for part in self.parts}
        return next((verb for verb in (Verb.ADD, Verb.CHANGE) if verb in verbs), Verb.SAME)

    @property
    def changes(self) -> list[Change]:
        return [change for part in self.parts for change in part.changes]


@dataclass(frozen=True)
class Plan:
    steps: list[Step]
    groups: list[Group]
    problems: list[Problem]
    unused: list[str]

    def count(self, verb: Verb) -> int:
        return sum(step.verb is verb for step in self.steps)

    @property
    def changes_nothing(self) -> bool:
        return not self.problems and self.count(Verb.SAME) == len(self.steps)


def plan(rows: list[Row]) -> Plan:
    """Compare the list with what is there. Raises Invalid when its columns cannot be told."""
    fitted = fit(rows, COLUMNS)
    names = Names.load()
    entries = [understand(row, names) for row in fitted.rows]
    groups, steps, clashes = _grouped(entries)
    _match(groups)
    problems = [problem for entry in entries for problem in entry.problems] + clashes
    problems.sort(key=lambda problem: problem.line)
    return Plan(steps, groups, problems, fitted.unused)


def _grouped(entries: list[Entry]) -> tuple[list[Group], list[Step], list[Problem]]:
    """Rows that mean one customer together; where two contradict, the later one is blamed."""
    known: dict[Identity, Group] = {}
    groups, steps, clashes = [], [], []
    for entry in entries:
        if entry.problems:
            continue
        group = next((known[key] for key in entry.identities if key in known), None)
        is_first = group is None
        if group is None:
            group = Group(entry.line, CUSTOMER_HEADERS)
            groups.append(group)
        known.update(dict.fromkeys(entry.identities, group))
        clashes += group.join(entry.customer, entry.line)
        site = _site_of(group, entry)
        if site:
            clashes += site.join(entry.site, entry.line)
        steps.append(Step(entry.line, group, site, is_first, entry.doubts))
    return groups, steps, clashes


def _site_of(group: Group, entry: Entry) -> Part | None:
    if not entry.site:
        return None
    return group.sites.setdefault(entry.place, Part(entry.line, SITE_HEADERS))


def _match(groups: list[Group]) -> None:
    """Find each customer and site among those that are there already."""
    candidates = _candidates(groups)
    known: dict[Identity, Customer] = {}
    for customer in candidates:
        where = [place(site.street, site.zip) for site in customer.sites.all()]
        for identity in every_identity(customer, where):
            known.setdefault(identity, customer)
    taken: set[Any] = set()
    for group in groups:
        found = _found(group, known, taken)
        if found is None:
            continue
        group.record = found
        taken.add(found.pk)
        there = {place(site.street, site.zip): site for site in found.sites.all()}
        for spot, part in group.sites.items():
            part.record = there.get(spot)
    _mark_lookalikes([group for group in groups if group.record is None], candidates)


def _found(group: Group, known: dict[Identity, Customer], taken: set[Any]) -> Customer | None:
    key = group.values.get("list_key")
    for identity in identities(group.values, group.sites):
        found = known.get(identity)
        if found is None or found.pk in taken:
            continue
        if key and found.list_key not in (None, key):
            continue  # another number of the list: another customer
        return found
    return None


def _candidates(groups: list[Group]) -> list[Customer]:
    """Everyone a group could mean or look like, with their sites, in two queries."""
    rows = Customer.objects.annotate(low_email=Lower("email"), low_name=Lower("name"))
    meant = Q(list_key__in=_said(groups, "list_key")) | Q(phone__in=_said(groups, "phone"))
    meant |= Q(low_email__in=_said(groups, "email")) | Q(low_name__in=_said(groups, "name"))
    return list(rows.filter(meant).prefetch_related("sites").order_by("created_at", "pk"))


def _said(groups: list[Group], name: str) -> set[str]:
    said = {group.values.get(name) or "" for group in groups} - {""}
    return {text.lower() for text in said} if name in ("email", "name") else said


def _mark_lookalikes(groups: list[Group], candidates: Iterable[Customer]) -> None:
    """Name the customer a new one may well be; a person decides, here or later."""
    alike: dict[str, list[Customer]] = {}
    for customer in candidates:
        for mark in (customer.phone, customer.email.lower(), plain_name(customer.name)):
            alike.setdefault(mark, []).append(customer)
    for group in groups:
        here = _who(group)
        marks = {here.phone, here.email.lower(), plain_name(here.name)} - {""}
        near = [customer for mark in marks for customer in alike.get(mark, [])]
        scored = [(likeness(here, who(customer)), customer) for customer in near]
        likely = [(found.points, customer) for found, customer in scored if found.is_likely]
        if likely:
            group.looks_like = max(likely, key=lambda pair: pair[0])[1]


def _who(group: Group) -> Who:
    said = group.values
    places = frozenset((part.values["street"], part.values["zip"]) for part in group.sites.values())
    return Who(said["name"], said.get("phone", ""), said.get("email", ""), places)
