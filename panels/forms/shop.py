"""A small shop's facts, as they are asked for."""

from __future__ import annotations

from typing import Any, ClassVar

from django.utils.translation import gettext_lazy as _

from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import Stepper
from panels.models import Shop

ABOVE_ZERO = {"min_value": _("Give a number above zero.")}


class ShopForm(RevisedForm):
    class Meta:
        model = Shop
        fields = (
            "occupancy", "floor_area_ft2", "lighting_va", "receptacles", "signs",
            "show_window_ft", "track_ft", "multioutlet_ft", "multioutlet_busy_ft", "system",
            "service_a", "is_feeder", "managed_a",
        )  # fmt: skip
        widgets: ClassVar = {"signs": Stepper}
        error_messages: ClassVar = {
            "floor_area_ft2": ABOVE_ZERO,
            "lighting_va": ABOVE_ZERO,
            "managed_a": ABOVE_ZERO,
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("show_window_ft", "track_ft", "multioutlet_ft", "multioutlet_busy_ft"):
            self.fields[name].required = False
        known = [one for one in self.fields["occupancy"].choices if one[0]]
        self.fields["occupancy"].choices = [("", _("choose")), *known]

    def clean(self) -> dict[str, Any]:
        """A length left empty is none."""
        said: dict[str, Any] = super().clean() or self.cleaned_data
        for name in ("show_window_ft", "track_ft", "multioutlet_ft", "multioutlet_busy_ft"):
            if said.get(name, 0) is None:
                said[name] = 0.0
        return said
