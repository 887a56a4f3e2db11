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
from panels.rules.wire.checks import OWN_ARTICLES, checks, checks_section
from panels.rules.wire.conditions import Conditions, Loading, conditions_from, loading_from
from panels.rules.wire.sizes import Size, size_of
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "ampacity", "Ampacity of a conductor"


@dataclass(frozen=True, kw_only=True)
class Installed:
    """A conductor of a known size, and its circuit as far as it is known."""

    size: Size
    conditions: Conditions
    loading: Loading


def installed_from(plain: Mapping[str, Any]) -> Installed:
    """From ``size``, the fields of `conditions_from` and those of `loading_from`."""
    fields = Fields(plain=plain)
    installed = Installed(
        size=size_of(fields.need("size", '"2/0"'), field=fields.at("size")),
        conditions=conditions_from(fields),
        loading=loading_from(fields),
    )
    fields.done()
    return installed


def answer(asked: Installed, edition: Edition) -> Result:
    """Ampacity with its steps, the largest device, and the checks that can be made."""
    found = carried(asked.size, asked.conditions, edition, device=asked.loading.device)
    sections = [
        Section(title="Conductor", lines=tuple(carried_lines(found, edition))),
        Section(title="Overcurrent device", lines=(_device(found, asked.loading, edition),)),
        checks_section(checks(found, asked.loading, edition)),
    ]
    return assemble(KEY, TITLE, edition, sections, about="ampacity")


def _device(found: Carried, loading: Loading, edition: Edition) -> Line:
    largest = largest_device(found, edition, receptacles=loading.receptacles)
    return line(
        "largest_device", "Largest overcurrent device", largest.device, *largest.sources,
        how=largest.how, note=OWN_ARTICLES, total=True,
    )  # fmt: skip


QUESTION = Question(key=KEY, title=TITLE, read=installed_from, answer=answer)
