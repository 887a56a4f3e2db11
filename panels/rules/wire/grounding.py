"""Which equipment grounding conductor does a circuit need, and which electrode conductor?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.fields import Fields
from panels.rules.quantities import show
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.wire.conditions import needed
from panels.rules.wire.lookup import electrode_conductor, equipment_grounding
from panels.rules.wire.sizes import KNOWN, Metal, Size, metal_of, size_of
from panels.rules.working import Line, Result, Section, line

EQUIPMENT, ELECTRODE = "equipment_grounding", "grounding_electrode"
IN_EACH = "With parallel sets in separate raceways: full size in each (250.122(F))."
SOLE = "Only where this conductor goes to no other kind of electrode."


@dataclass(frozen=True, kw_only=True)
class Bond:
    """The device and metal; `phase` and `least` where the phase conductors were enlarged from
    the smallest that carries the circuit."""

    device: Quantity
    metal: Metal
    phase: Size | None = None
    least: Size | None = None


def bond_from(plain: Mapping[str, Any]) -> Bond:
    """From ``device``, ``metal`` and, where enlarged, ``size`` and ``enlarged_from``."""
    fields = Fields(plain=plain)
    bond = Bond(
        device=needed(fields, "device", unit="A", example="100 A"),
        metal=metal_of(fields.need("metal", '"cu"')),
        phase=_maybe_size(fields, "size"),
        least=_maybe_size(fields, "enlarged_from"),
    )
    if bond.least and not bond.phase:
        raise fields.fault("size", "is missing. Which size were the conductors enlarged to?")
    if bond.least and bond.phase and bond.phase < bond.least:
        raise fields.fault("enlarged_from", f"{bond.least} is larger than {bond.phase}.")
    fields.done()
    return bond


def _maybe_size(fields: Fields, name: str) -> Size | None:
    text = fields.get(name)
    return size_of(text, field=fields.at(name)) if text else None


def enlarged(bond: Bond, edition: Edition) -> Size:
    """The conductor after enlarging in proportion of circular mils, 250.122(B).

    Never asked to be larger than the phase conductor, 250.122(A). Raises `NotCovered`.
    """
    size = equipment_grounding(bond.device, bond.metal, edition)
    if not (bond.phase and bond.least and edition.wire.grounding.in_proportion.value):
        return size
    needed = size.circular_mils * bond.phase.circular_mils / bond.least.circular_mils
    if needed >= bond.phase.circular_mils:
        return bond.phase
    return _at_least(needed, edition)


# Table 8 prints areas to four digits; a size four gauges up is four gauges up (ASTM B258).
ROUNDED = 0.0005


def _at_least(circular_mils: float, edition: Edition) -> Size:
    for size in sorted(KNOWN.values()):
        if size.circular_mils >= circular_mils * (1 - ROUNDED):
            return size
    raise NotCovered(
        f"No size here has {circular_mils / 1000:,.0f} kcmil",
        cite=edition.wire.grounding.in_proportion.cite,
    )


def bond_lines(bond: Bond, edition: Edition) -> list[Line]:
    """The conductor of the table, and the enlarged one where phases were enlarged."""
    rule, size = edition.wire.grounding, equipment_grounding(bond.device, bond.metal, edition)
    lines = [
        line("grounding_by_table", f"For a device of {show(bond.device)}", named(size, bond.metal),
             rule.equipment),
    ]  # fmt: skip
    final = enlarged(bond, edition)
    if bond.phase and bond.least and bond.phase > bond.least:
        ratio = bond.phase.circular_mils / bond.least.circular_mils
        lines.append(
            line("grounding_area", "Enlarged in proportion to the phase conductors",
                 Q(size.circular_mils * ratio / 1000, "kcmil"), rule.in_proportion,
                 how=f"{size.circular_mils:,} × {bond.phase.circular_mils:,}"
                 f" ÷ {bond.least.circular_mils:,} cmil")
        )  # fmt: skip
    lines.append(
        line("equipment_grounding", "Equipment grounding conductor", named(final, bond.metal),
             rule.equipment, note=IN_EACH, total=True)
    )  # fmt: skip
    return lines


def named(size: Size, metal: Metal) -> str:
    return f"{size} {metal.label}"


def answer_equipment(bond: Bond, edition: Edition) -> Result:
    section = Section(title="Equipment grounding", lines=tuple(bond_lines(bond, edition)))
    return assemble(EQUIPMENT, EQUIPMENT_TITLE, edition, [section], about="grounding")


EQUIPMENT_TITLE = "Equipment grounding conductor"
ELECTRODE_TITLE = "Grounding electrode conductor"


@dataclass(frozen=True, kw_only=True)
class Electrode:
    """The service's conductors (all sets of one phase count) and the metal of the conductor."""

    size: Size
    service_metal: Metal
    metal: Metal
    sets: int = 1


def electrode_from(plain: Mapping[str, Any]) -> Electrode:
    """From ``service_size``, ``service_metal``, ``sets`` and ``metal``."""
    fields = Fields(plain=plain)
    electrode = Electrode(
        size=size_of(fields.need("service_size", '"4/0"'), field="service_size"),
        service_metal=metal_of(fields.need("service_metal", '"al"'), field="service_metal"),
        metal=metal_of(fields.get("metal") or "cu"),
        sets=fields.count("sets", least=1, default=1),
    )
    fields.done()
    return electrode


def answer_electrode(asked: Electrode, edition: Edition) -> Result:
    """The conductor by the table, and the caps to a rod and to a concrete-encased electrode."""
    rule, area = edition.wire.grounding, float(asked.size.circular_mils * asked.sets)
    size = electrode_conductor(area, asked.service_metal, asked.metal, edition)
    lines = [
        line("service_area", f"Service conductors, {asked.sets} × {asked.size}",
             Q(area / 1000, "kcmil")),
        line("grounding_electrode", ELECTRODE_TITLE, named(size, asked.metal), rule.electrode,
             total=True),
    ]  # fmt: skip
    caps = (("to_rod", "To a rod, pipe or plate", rule.to_rod),
            ("to_concrete", "To a concrete-encased electrode", rule.to_concrete))  # fmt: skip
    for key, label, cap in caps:
        most = cap.value.get(asked.metal)
        if most:
            shown = named(min(size, most), asked.metal)
            lines.append(line(key, f"{label}: no larger than", shown, cap, note=SOLE))
    section = Section(title=ELECTRODE_TITLE, lines=tuple(lines))
    return assemble(ELECTRODE, ELECTRODE_TITLE, edition, [section], about="grounding")


EQUIPMENT_QUESTION = Question(
    key=EQUIPMENT, title=EQUIPMENT_TITLE, read=bond_from, answer=answer_equipment
)
ELECTRODE_QUESTION = Question(
    key=ELECTRODE, title=ELECTRODE_TITLE, read=electrode_from, answer=answer_electrode
)
