"""The one-line of a site: the service, panels as they feed each other, sources at breakers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from panels.models import Panel, Source
from panels.rules import tree

ROW, INDENT, LEFT, TOP, WIDTH = 60, 58, 8, 96, 400
SERVICE_Y = 40
HALF_BOX = 13
SYMBOLS = {
    Source.Kind.STORAGE.value: "B",
    Source.Kind.SOLAR.value: "PV",
    Source.Kind.GENERATOR.value: "G",
    Source.Kind.VEHICLE.value: "EV",
}


@dataclass(frozen=True, kw_only=True)
class Node:
    """One box or circle with its two lines of text, and the branch that leads to it."""

    row: int
    depth: int
    label: str
    aside: str
    url: str
    breaker: str = ""
    symbol: str = ""
    is_here: bool = False
    has_main: bool = False

    @property
    def x(self) -> int:
        return LEFT + self.depth * INDENT

    @property
    def y(self) -> int:
        return TOP + self.row * ROW

    @property
    def middle(self) -> int:
        return self.x + HALF_BOX

    @property
    def box_top(self) -> int:
        return self.y - 18

    @property
    def text_x(self) -> int:
        return self.x + 2 * HALF_BOX + 10

    @property
    def branch_x(self) -> int:
        """Where the branch leaves the riser above it."""
        return self.x - INDENT + HALF_BOX

    @property
    def breaker_x(self) -> int:
        return (self.branch_x + self.x) // 2


@dataclass(frozen=True, kw_only=True)
class OneLine:
    """`risers` are (x, from y, to y)."""

    nodes: list[Node]
    risers: list[tuple[int, int, int]]
    elsewhere: list[Source]
    width: int = WIDTH

    @property
    def height(self) -> int:
        return TOP + ROW * max(len(self.nodes) - 1, 0) + 40


def one_line(
    panels: Sequence[Panel], sources: Sequence[Source], *, here: Panel | None = None
) -> OneLine:
    """A row for each panel under what feeds it, and for each source under its panel."""
    nodes = list(_nodes(panels, sources, here))
    live = {panel.pk for panel in panels}
    elsewhere = [one for one in sources if not one.circuit or one.circuit.panel_id not in live]
    return OneLine(nodes=nodes, risers=_risers(nodes), elsewhere=elsewhere)


def _nodes(
    panels: Sequence[Panel], sources: Sequence[Source], here: Panel | None
) -> Iterator[Node]:
    by_key = {panel.pk: panel for panel in panels}
    below = tree.children({panel.pk: panel.upstream_id for panel in panels})
    todo = [(by_key[key], 1) for key in reversed(below.get(None, []))]
    row = 0
    while todo:
        panel, depth = todo.pop()
        yield _panel(panel, row=row, depth=depth, here=here)
        row += 1
        for source in sources:
            if source.circuit and source.circuit.panel_id == panel.pk:
                yield _source(source, row=row, depth=depth + 1)
                row += 1
        todo += [(by_key[key], depth + 1) for key in reversed(below.get(panel.pk, []))]


def _panel(panel: Panel, *, row: int, depth: int, here: Panel | None) -> Node:
    main = _("main %(main)s A") % {"main": panel.main_a} if panel.main_a else _("main lugs")
    rating = _("%(rating)s A, %(main)s, %(spaces)s spaces")
    said = {"rating": panel.rating_a, "main": main, "spaces": panel.spaces}
    return Node(
        row=row,
        depth=depth,
        label=panel.name,
        aside=rating % said,
        url=reverse("panel", args=[panel.pk]),
        breaker=_amps(panel.fed_from.rating_a) if panel.fed_from else "",
        is_here=here is not None and panel.pk == here.pk,
        has_main=panel.main_a is not None,
    )


def _source(source: Source, *, row: int, depth: int) -> Node:
    size = [
        _("%(kva)s kVA") % {"kva": f"{source.rated_kva:g}"} if source.rated_kva else "",
        _("%(kwh)s kWh") % {"kwh": f"{source.usable_kwh:g}"} if source.usable_kwh else "",
    ]
    words = [str(source.get_kind_display()), *(part for part in size if part)]
    return Node(
        row=row,
        depth=depth,
        label=source.name,
        aside=", ".join(words),
        url=reverse("source", args=[source.pk]),
        breaker=_amps(source.circuit.rating_a) if source.circuit else "",
        symbol=SYMBOLS[source.kind],
    )


def _amps(rating_a: int) -> str:
    return _("%(amps)s A") % {"amps": rating_a}


def _risers(nodes: Sequence[Node]) -> list[tuple[int, int, int]]:
    """One vertical from under each box, and from the service, to the last branch leaving it."""
    risers: dict[int, tuple[int, int]] = {}
    done: list[tuple[int, int, int]] = []
    for node in nodes:
        for depth in [depth for depth in risers if depth >= node.depth + 1]:
            done.append(_riser(depth, *risers.pop(depth)))
        parent = risers.get(node.depth)
        start = parent[0] if parent else _start(nodes, node)
        risers[node.depth] = (start, node.y)
    return done + [_riser(depth, *ends) for depth, ends in risers.items()]


def _start(nodes: Sequence[Node], node: Node) -> int:
    above = [one for one in nodes[: node.row] if one.depth == node.depth - 1]
    return above[-1].y + 18 if above else SERVICE_Y + 14


def _riser(depth: int, start: int, end: int) -> tuple[int, int, int]:
    return LEFT + (depth - 1) * INDENT + HALF_BOX, start, end
