"""What does the customer read about the home: which panels, what each breaker serves?"""

from __future__ import annotations

import uuid
from dataclasses import dataclass

from contractor.models import Site
from panels.directory import content, schedule, words
from panels.directory.content import Circuit, Directory
from panels.models import DirectoryRevision, Panel
from panels.services.directory import in_force


@dataclass(frozen=True)
class Line:
    """A breaker as the customer reads it."""

    place: str
    name: str
    amps: int
    kind: str
    aside: str
    guard: str
    feeds_id: str
    found: bool


@dataclass(frozen=True)
class OnePanel:
    """A panel as last issued."""

    revision: DirectoryRevision
    directory: Directory
    lines: list[Line]
    spares: int
    spaces: int
    supply: str
    disconnect: str

    @property
    def found(self) -> int:
        return sum(line.found for line in self.lines)


@dataclass(frozen=True)
class Home:
    """The whole page: panels in the order power flows, what can feed them, what is missing."""

    site: Site
    panels: list[OnePanel]
    not_issued: list[str]
    sources: list[tuple[str, str]]

    @property
    def found(self) -> int:
        return sum(panel.found for panel in self.panels)


def home_of(site: Site, *, wanted: str = "", first: uuid.UUID | None = None) -> Home:
    """The latest issue of every panel; `wanted` marks the breakers whose words hold all of its
    words, `first` is the panel whose door was scanned. Two queries."""
    revisions = in_force(site)
    panels = [_panel(revision, wanted) for revision in revisions]
    panels.sort(key=lambda panel: panel.revision.panel_id != first)
    newest = max(revisions, key=lambda revision: revision.issued_at, default=None)
    issued = {revision.panel_id for revision in revisions}
    others = Panel.objects.filter(site=site, retired_at=None).exclude(pk__in=issued)
    sources = content.from_plain(newest.content).sources if newest else ()
    return Home(
        site=site,
        panels=panels,
        not_issued=list(others.values_list("name", flat=True)),
        sources=words.sources(sources),
    )


def _panel(revision: DirectoryRevision, wanted: str) -> OnePanel:
    directory = content.from_plain(revision.content)
    held = [part.item for _side, part in schedule.parts(directory) if part.first]
    used = [circuit for circuit in held if circuit and circuit.kind != "spare"]
    return OnePanel(
        revision=revision,
        directory=directory,
        lines=[_line(directory, circuit, wanted) for circuit in used],
        spares=sum(circuit is not None for circuit in held) - len(used),
        spaces=sum(circuit is None for circuit in held),
        supply=words.supplied(directory.supply),
        disconnect=words.disconnect(directory.identity, directory.supply),
    )


def _line(directory: Directory, circuit: Circuit, wanted: str) -> Line:
    name = words.circuit_name(circuit)
    said = f"{name} {directory.identity.name}".casefold()
    return Line(
        place=directory.seat_of(circuit).text.replace(",", ", "),
        name=name,
        amps=circuit.rating_a,
        kind=circuit.kind,
        aside=words.for_customer(circuit),
        guard=words.PROTECTION.get(circuit.protection, ""),
        feeds_id=circuit.feeds_id,
        found=all(word in said for word in wanted.casefold().split()),
    )
