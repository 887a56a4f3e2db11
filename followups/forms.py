"""What may be typed after the work: answers, callbacks, what was said to whom."""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext_lazy as _

from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import Choices
from followups.models import Callback
from followups.models.answers import ANSWERS

FEW_WORDS = {"rows": 3}


class ManyPictures(forms.FileInput):
    """Gives the field every file that was chosen, not the last one."""

    allow_multiple_selected = True

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        return files.getlist(name)

    def __init__(self) -> None:
        super().__init__({"accept": "image/jpeg,image/png,image/webp", "multiple": True})


class PicturesField(forms.FileField):
    """Several files, or none; which of them are pictures is found out by reading them."""

    def clean(self, data: Any, initial: Any = None) -> list[UploadedFile[Any]]:
        return list(data or [])


class AnswerForm(forms.Form):
    """The customer's answer; `id` is made with the page, so two taps are one answer."""

    not_done = _("Not sent yet")
    id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    answer = forms.ChoiceField(
        label=_("Is all well?"),
        choices=ANSWERS,
        widget=Choices,
        error_messages={"required": _("Choose one of the three.")},
    )
    text = forms.CharField(
        label=_("Anything to add?"),
        max_length=5000,
        required=False,
        widget=forms.Textarea({"rows": 4}),
    )
    photos = PicturesField(
        label=_("Pictures"),
        required=False,
        widget=ManyPictures,
        help_text=_("Up to six. Never open a panel or touch anything to take one."),
    )

    @classmethod
    def blank(cls, answer: str) -> AnswerForm:
        known = answer if answer in dict(ANSWERS) else None
        return cls(initial={"id": uuid.uuid4(), "answer": known})


class WhatForm(forms.Form):
    what = forms.CharField(
        label=_("What is wrong, in their words"), widget=forms.Textarea(FEW_WORDS)
    )


class CauseForm(RevisedForm):
    cause = forms.ChoiceField(
        label=_("What brought us back"),
        choices=[("", _("not known yet")), *Callback.Cause.choices],
        required=False,
    )

    class Meta:
        model = Callback
        fields: ClassVar = ["cause", "cause_text", "note"]
        labels: ClassVar = {"cause_text": _("More exactly")}
        help_texts: ClassVar = {"cause_text": _("Which breaker, which termination, which part.")}
        widgets: ClassVar = {"note": forms.Textarea(FEW_WORDS)}


class BookForm(forms.Form):
    title = forms.CharField(label=_("What is to be done"), max_length=120)


class CloseForm(forms.Form):
    cause = forms.ChoiceField(
        label=_("What brought us back"), choices=[("", _("Choose")), *Callback.Cause.choices]
    )
    cause_text = forms.CharField(label=_("More exactly"), max_length=200, required=False)
    resolution = forms.CharField(label=_("What was done"), widget=forms.Textarea(FEW_WORDS))


class WordsForm(forms.Form):
    """One field of a few words; the view says what they are for."""

    words = forms.CharField(max_length=240, widget=forms.Textarea({"rows": 2}))

    def __init__(self, *args: Any, label: Any, required: bool = True, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["words"].label = label
        self.fields["words"].required = required


class PraiseForm(forms.Form):
    text = forms.CharField(
        label=_("What they said, in their words"),
        max_length=2000,
        widget=forms.Textarea({"rows": 4}),
    )
