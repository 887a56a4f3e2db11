"""Each place of a site with its fault currents, and the one-line drawing that carries them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _

from contractor.models import Site
from panels.queries import records
from panels.rules.fault import answer
from panels.rules.fault.answer import At
from panels.rules.fault.checks import ka
from panels.services import trees
from panels.views.one_line import OneLine, one_line
from panels.views.tree_sheet import Told, TreeSheet, sheet_of


@dataclass(frozen=True, kw_only=True)
class Row:
    """A place: its currents in kA, and what everything there is rated for."""

    at: At
    url: str
    told: list[Told]

    @property
    def name(self) -> str:
        return self.at.name if self.at.box else _("Where the service conductors begin")

    @property
    def currents(self) -> list[tuple[str, str, str]]:
        """What kind of fault, by complex impedance, and by the point-to-point method."""
        at, scalar = self.at, self.at.points
        lines, neutral = scalar.lines_a + at.motor_a, scalar.to_neutral
        rows = [(_("Line to line"), ka(at.line_to_line), "" if at.three_phase else ka(lines))]
        if at.three_phase is not None:
            rows.insert(0, (_("Three-phase"), ka(at.three_phase), ka(lines)))
        if at.to_neutral is None:
            return [*rows, (_("Line to neutral"), _("not covered"), "")]
        beside = "" if neutral is None else ka(neutral + at.motor_a)
        return [*rows, (_("Line to neutral"), ka(at.to_neutral), beside)]

    @property
    def open(self) -> list[str]:
        """What is not recorded on the way: the figures are then upper bounds."""
        return list(dict.fromkeys(self.at.loops.open_))

    @property
    def x_over_r(self) -> str:
        ratio = self.at.loops.x_over_r
        return f"{ratio:.1f}" if ratio < 100 else ""


@dataclass(kw_only=True)
class FaultSheet:
    """The study, its drawing, and what has to be marked."""

    tree: TreeSheet
    drawing: OneLine | None = None
    own: list[Told]
    missing: str = ""
    marking: list[Any]


def fault_sheet(site: Site, asked: Mapping[str, str], choices: Mapping[str, Any]) -> FaultSheet:
    tree = sheet_of(
        site, asked,
        lambda basis: trees.available(site=site, basis=basis, choices=choices), method=answer.KEY,
    )  # fmt: skip
    sheet = FaultSheet(tree=tree, own=[], marking=[])
    if tree.worked is None or tree.worked.fault is None or tree.basis is None:
        return sheet
    study = tree.worked.fault
    sheet.missing = study.missing
    sheet.own = tree.places.told(study.findings)
    tree.rows = [
        Row(
            at=at,
            url=tree.places.panel_url(at.name) if at.box else "",
            told=tree.places.told(at.findings),
        )
        for at in study.places
    ]
    sheet.marking = list(answer.marks(study, tree.basis.edition))
    sheet.drawing = _drawing(site, study)
    return sheet


def _drawing(site: Site, study: answer.Study) -> OneLine:
    """The one-line of the site with the fault current under every panel's name."""
    drawn = one_line(list(records.panels_of(site)), list(records.sources_of(site)))
    under = {at.name: _under(at) for at in study.places if at.box}
    nodes = [
        node if node.symbol else replace(node, aside=under.get(node.label, node.aside))
        for node in drawn.nodes
    ]
    return replace(drawn, nodes=nodes)


def _under(at: At) -> str:
    lines = at.three_phase or at.line_to_line
    words = _("3-phase %(ka)s") if at.three_phase else _("L-L %(ka)s")
    told = words % {"ka": ka(lines)}
    if at.to_neutral is not None:
        told += ", " + _("L-N %(ka)s") % {"ka": ka(at.to_neutral)}
    return _("at most %(told)s") % {"told": told} if at.loops.open_ else told
