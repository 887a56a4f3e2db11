"""Where can be measured at a site, and with what did this person measure the last time?"""

from __future__ import annotations

import uuid
from collections import defaultdict
from functools import cached_property

from django.db.models import F
from django.utils.translation import gettext as _

from contractor.models import Person, Site
from panels.models import Circuit, Panel, Reading


class Used:
    """Asked for once a page, however many lines of the list ask for readings."""

    def __init__(self, site: Site, person: Person) -> None:
        self.site, self.person = site, person

    @cached_property
    def panels(self) -> list[Panel]:
        """The panels in use, those fed by the service first."""
        rows = Panel.objects.filter(site=self.site, retired_at=None)
        return list(rows.order_by(F("fed_from").asc(nulls_first=True), "name"))

    @cached_property
    def instruments(self) -> dict[str, str]:
        """The last instrument by kind of reading: nobody types it twice."""
        rows = Reading.objects.filter(taken_by=self.person).exclude(instrument="")
        last = rows.order_by("kind", "-taken_at").distinct("kind").values_list("kind", "instrument")
        return defaultdict(str, last)

    def circuits(self, panel: Panel) -> list[tuple[object, str]]:
        """The panel's circuits by place, as choices."""
        named = [
            (row.pk, f"{row.seat_in(panel.frame).text}: {row}") for row in self._by_panel[panel.pk]
        ]
        return [("", _("the panel itself")), *named]

    @cached_property
    def _by_panel(self) -> dict[uuid.UUID, list[Circuit]]:
        found: dict[uuid.UUID, list[Circuit]] = defaultdict(list)
        for row in Circuit.objects.filter(panel__in=self.panels).order_by("slots"):
            found[row.panel_id].append(row)
        return found
