"""How does every form come out: label above, help and errors tied to the field, right keyboard?"""

from __future__ import annotations

from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.forms.renderers import TemplatesSetting
from django.utils.translation import gettext_lazy as _

from contractor.telephone import phone

# Which keys a phone should offer, by the kind of field.
KEYBOARD: tuple[tuple[type[forms.Field], str], ...] = (
    (forms.DecimalField, "decimal"),
    (forms.FloatField, "decimal"),
    (forms.IntegerField, "numeric"),
)


class PaperField(BoundField):
    """A field that knows which keyboard it wants and says when it may stay empty."""

    def build_widget_attrs(
        self, attrs: dict[str, Any], widget: forms.Widget | None = None
    ) -> dict[str, Any]:
        built = super().build_widget_attrs(attrs, widget)
        shown = widget or self.field.widget
        if isinstance(shown, forms.widgets.Input) and not shown.is_hidden:
            keys = next((keys for kind, keys in KEYBOARD if isinstance(self.field, kind)), None)
            if keys:
                built.setdefault("inputmode", keys)
        return built

    @property
    def is_tick(self) -> bool:
        """One box to tick: the label stands beside it, not above."""
        return isinstance(self.field.widget, forms.CheckboxInput)

    @property
    def anchor(self) -> str:
        """Where the error summary's link leads: the input, or the first of several."""
        return self.id_for_label or f"{self.auto_id}_0"

    @property
    def is_optional(self) -> bool:
        return not (self.field.required or self.field.disabled or self.is_tick)


class PaperForms(TemplatesSetting):
    """The form renderer named in settings: `{{ form }}` and `{{ field.as_field_group }}`."""

    form_template_name = "django/forms/div.html"
    field_template_name = "django/forms/field.html"
    bound_field_class = PaperField


class DayInput(forms.DateInput):
    input_type = "date"

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__(attrs, format="%Y-%m-%d")


class ClockInput(forms.TimeInput):
    input_type = "time"

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__(attrs, format="%H:%M")


class MomentInput(forms.DateTimeInput):
    input_type = "datetime-local"

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__(attrs, format="%Y-%m-%dT%H:%M")


class Segmented(forms.RadioSelect):
    """A few choices side by side, each large enough for a thumb."""

    def __init__(self, attrs: dict[str, Any] | None = None, choices: Any = ()) -> None:
        super().__init__({"class": "segmented", **(attrs or {})}, choices)


class Choices(forms.RadioSelect):
    """One of several, a line each."""

    def __init__(self, attrs: dict[str, Any] | None = None, choices: Any = ()) -> None:
        super().__init__({"class": "choices", **(attrs or {})}, choices)


class Ticks(forms.CheckboxSelectMultiple):
    """Any of several, a line each."""

    def __init__(self, attrs: dict[str, Any] | None = None, choices: Any = ()) -> None:
        super().__init__({"class": "choices", **(attrs or {})}, choices)


class Stepper(forms.NumberInput):
    """A small number between a minus and a plus; js/stepper.js adds the two buttons."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        words = {"data-less": _("One less"), "data-more": _("One more")}
        super().__init__({"data-stepper": True, **words, **(attrs or {})})


class PhoneInput(forms.TextInput):
    """A number on record (+16145550142) is shown as it is read out; what was typed stays so."""

    input_type = "tel"

    def format_value(self, value: Any) -> str | None:
        text = super().format_value(value)
        return phone(text) if text and text.startswith("+1") and text[1:].isdigit() else text


class PhotoInput(forms.FileInput):
    """Opens the camera on a phone, the file list elsewhere."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"accept": "image/*", "capture": "environment", **(attrs or {})})
