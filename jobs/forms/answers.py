"""How is a line of the close-out list answered: which blanks, filled with what?"""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from typing import Any

from django import forms

from jobs.forms.field import AbsentForm, SignForm, WhyNotForm, WordsForm, reading_form
from jobs.planning.close_out import MEASURED
from jobs.planning.words import CloseOutKind
from jobs.queries.close_out import Row, Sheet
from jobs.queries.measuring import Used
from panels.forms.reading import ReadingForm
from panels.models import Panel
from panels.rules.layout import System
from panels.rules.readings import conductors


@dataclass
class Blanks:
    """The blanks of one line. `panel` and `panels` matter where it asks for readings; `fresh` is
    the id the next thing sent from here will be kept under, however often it is sent."""

    words: forms.Form | None = None
    fault: forms.Form | None = None  # the one that was sent and has something to say
    why_not: forms.Form | None = None
    sign: forms.Form | None = None
    absent: forms.Form | None = None
    reading: ReadingForm | None = None
    panel: Panel | None = None
    panels: list[Panel] = field(default_factory=list)
    is_first: bool = True
    fresh: uuid.UUID = field(default_factory=uuid.uuid4)

    @property
    def stays_open(self) -> bool:
        """Voltages are typed once a panel; the others one after another."""
        return self.is_first or bool(self.reading and (self.reading.errors or not self.values))

    @property
    def values(self) -> list[Any]:
        """The blanks for numbers of a voltage reading, to be laid out as a grid."""
        pairs = getattr(self.reading, "pairs", ())
        return [self.reading[pair] for pair in pairs] if self.reading else []

    @property
    def rest(self) -> list[Any]:
        pairs = getattr(self.reading, "pairs", ())
        return [blank for blank in self.reading if blank.name not in pairs] if self.reading else []


def blanks(row: Row, sheet: Sheet, used: Used, *, panel: Panel | None = None) -> Blanks:
    """Empty blanks for a line as it stands."""
    line, asks, ids = row.line, CloseOutKind(row.line.asks), f"id_{row.line.pk}_%s"
    made = Blanks(why_not=WhyNotForm(auto_id=ids))
    if asks is CloseOutKind.TEXT:
        made.words = WordsForm(auto_id=ids, initial={"text": line.note})
    elif asks is CloseOutKind.SIGNATURE:
        made.sign, made.absent = SignForm(auto_id=ids), AbsentForm(auto_id=ids)
    elif asks in MEASURED and used.panels:
        made.panels = used.panels
        made.panel = panel or likely_panel(row, sheet, used.panels)
        made.is_first = not any(one.reading.panel_id == made.panel.pk for one in row.readings)
        made.reading = reading_form(line, made.panel, start=_start(row, made.panel, used))
        made.reading.fields["circuit"].choices = used.circuits(made.panel)
    return made


def _start(row: Row, panel: Panel, used: Used) -> dict[str, Any]:
    """What is most likely typed again, and what is most likely measured next."""
    start: dict[str, Any] = {"instrument": used.instruments[row.line.asks]}
    here = [one.reading for one in row.readings if one.reading.panel_id == panel.pk]
    if row.readings:
        last = row.readings[-1].reading
        start |= {name: getattr(last, name) for name in AGAIN if getattr(last, name) is not None}
    if row.line.asks == CloseOutKind.INSULATION:
        measured = {reading.between for reading in here}
        pairs = conductors(System(panel.system))
        start["between"] = next((pair for pair in pairs if pair not in measured), pairs[0])
    return start


AGAIN = ("test_v", "temperature_c", "marked_value")


def likely_panel(row: Row, sheet: Sheet, panels: list[Panel]) -> Panel:
    """Where this is most likely measured: where it was so far, the panel the line names, the
    first that no other line of its kind has been measured at; else the first of all."""
    if row.readings:
        return _one(panels, row.readings[-1].reading.panel)
    named = [panel for panel in panels if panel.name.casefold() in row.line.label.casefold()]
    if named:
        return named[0]
    taken = {
        judged.reading.panel_id
        for other in sheet.rows
        if other.line.asks == row.line.asks and other.line.pk != row.line.pk
        for judged in other.readings
    }
    return next((panel for panel in panels if panel.pk not in taken), panels[0])


def _one(panels: list[Panel], panel: Panel) -> Panel:
    return next((one for one in panels if one.pk == panel.pk), panels[0])
