"""What may this conductor carry here, what may protect it, and does it pass for its circuit?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from panels.rules.edition import Edition
from panels.rules.fields import Fields
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.wire.carried import Carried, carried, carried_lines, largest_device
from panels.rules.wire.checks import OWN_ARTICLES, Check, checks, checks_section
from panels.rules.wire.conditions import Conditions, Loading, conditions_from, loading_from
from panels.rules.wire.lookup import equipment_grounding
from panels.rules.wire.sizes import Metal, Size, metal_of, size_of
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "ampacity", "Ampacity of a conductor"
ENLARGED = "Larger where the phase conductors were enlarged for voltage drop (250.122(B))."


@dataclass(frozen=True, kw_only=True)
class Installed:
    """A conductor of a known size, and its circuit as far as it is known."""

    size: Size
    conditions: Conditions
    loading: Loading
    ground: Size | None = None
    ground_metal: Metal = Metal.COPPER


def installed_from(plain: Mapping[str, Any]) -> Installed:
    """From ``size``, ``ground`` and ``ground_metal``, the fields of `conditions_from` and those
    of `loading_from`."""
    fields = Fields(plain=plain)
    ground = fields.get("ground")
    installed = Installed(
        size=size_of(fields.need("size", '"2/0"'), field=fields.at("size")),
        conditions=conditions_from(fields),
        loading=loading_from(fields),
        ground=size_of(ground, field="ground") if ground else None,
        ground_metal=metal_of(fields.get("ground_metal") or "cu", field="ground_metal"),
    )
    fields.done()
    return installed


def answer(asked: Installed, edition: Edition) -> Result:
    """Ampacity with its steps, the largest device, and the checks that can be made."""
    found = carried(asked.size, asked.conditions, edition, device=asked.loading.device)
    sections = [
        Section(title="Conductor", lines=tuple(carried_lines(found, edition))),
        Section(title="Overcurrent device", lines=(_device(found, asked.loading, edition),)),
        checks_section([*checks(found, asked.loading, edition), *_ground(asked, edition)]),
    ]
    return assemble(KEY, TITLE, edition, sections, about="ampacity")


def _device(found: Carried, loading: Loading, edition: Edition) -> Line:
    largest = largest_device(found, edition, receptacles=loading.receptacles)
    return line(
        "largest_device", "Largest overcurrent device", largest.device, *largest.sources,
        how=largest.how, note=OWN_ARTICLES, total=True,
    )  # fmt: skip


def _ground(asked: Installed, edition: Edition) -> list[Check]:
    """The equipment grounding conductor against its table, where both it and the device are
    known. Whether the phases were enlarged, and it with them, is not known here."""
    device = asked.loading.device
    if asked.ground is None or device is None:
        return []
    needs = equipment_grounding(device, asked.ground_metal, edition)
    metal = asked.ground_metal.label
    return [
        Check(
            key="ground_check",
            label="Equipment grounding conductor",
            passes=asked.ground >= needs,
            words=f"is {asked.ground} {metal}, needs {needs} {metal}",
            sources=(edition.wire.grounding.equipment,),
            note=ENLARGED,
        )
    ]


QUESTION = Question(key=KEY, title=TITLE, read=installed_from, answer=answer)
