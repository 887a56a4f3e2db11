"""Is every form readable by eye, by ear and by thumb without the page doing anything?"""

import datetime as dt
import re

from django import forms

from contractor.forms.sign_in import SignInForm
from contractor.forms_rendering import DayInput, PhoneInput, Segmented, Stepper, Ticks
from followups.forms import AnswerForm


class Breaker(forms.Form):
    name = forms.CharField(help_text="As it stands on the directory.")
    note = forms.CharField(required=False)
    amps = forms.IntegerField()
    length_ft = forms.DecimalField()
    day = forms.DateField(widget=DayInput, required=False)
    poles = forms.ChoiceField(choices=[("1", "1-pole"), ("2", "2-pole")], widget=Segmented)
    needs = forms.MultipleChoiceField(choices=[("p", "Permit")], widget=Ticks, required=False)
    spaces = forms.IntegerField(widget=Stepper)
    backed_up = forms.BooleanField(required=False)
    rev = forms.IntegerField(widget=forms.HiddenInput)


def tag(page, name):
    return next(found for found in re.findall(r"<input[^>]*>", page) if f'name="{name}"' in found)


def test_optional_is_said_and_required_is_not():
    page = str(Breaker())
    assert re.search(r"Note <span class=\"optional\">optional</span>", page)
    assert page.count("optional</span>") == 3  # note, day, needs; a tick box needs no saying


def test_a_telephone_number_is_shown_as_read_out_and_typing_stays_as_typed():
    assert 'value="(614) 555-0142"' in PhoneInput().render("phone", "+16145550142")
    assert 'value="614 55"' in PhoneInput().render("phone", "614 55")


def test_help_and_error_are_tied_to_the_field():
    page = str(Breaker({}))
    assert 'aria-describedby="id_name_helptext id_name_error"' in tag(page, "name")
    assert 'aria-invalid="true"' in tag(page, "name")
    assert 'id="id_name_helptext"' in page
    assert 'id="id_name_error"' in page
    assert 'aria-describedby="id_poles_error"' in re.search(r"<fieldset[^>]*invalid[^>]*>", page)[0]


def test_every_link_of_the_error_summary_leads_to_a_field():
    page = str(Breaker({}))
    links = re.findall(r'href="#([^"]+)"', page)
    assert len(links) == 5  # name, amps, length, poles, spaces
    for target in links:
        assert f'id="{target}"' in page


def test_a_fault_of_a_hidden_field_or_of_the_whole_form_is_said_once():
    form = Breaker({"name": "Range"})
    form.add_error(None, "Space 3 is taken.")
    page = str(form)
    assert page.count("Space 3 is taken.") == 1
    assert "rev" in form.errors
    summary = page[: page.index('<div class="fields">')]
    assert summary.count("This field is required.") == 5  # amps, length, poles, spaces and rev


def test_a_phone_shows_the_right_keys():
    page = str(Breaker())
    assert 'inputmode="numeric"' in tag(page, "amps")
    assert 'inputmode="decimal"' in tag(page, "length_ft")
    assert "inputmode" not in tag(page, "name")
    assert "inputmode" not in tag(page, "rev")


def test_days_are_filled_in_the_browsers_own_form():
    page = str(Breaker(initial={"day": dt.date(2026, 11, 25)}))
    assert 'type="date"' in tag(page, "day")
    assert 'value="2026-11-25"' in tag(page, "day")


def test_hidden_fields_are_there_once():
    assert str(Breaker()).count('name="rev"') == 1


def test_what_was_typed_comes_back_escaped():
    page = str(Breaker({"name": '"><script>'}))
    assert "<script>" not in page


def test_a_summary_of_errors_says_what_did_not_happen():
    assert "<h2>Not saved yet</h2>" in str(Breaker({}))
    assert "<h2>Not signed in</h2>" in str(SignInForm({}))
    assert "<h2>Not sent yet</h2>" in str(AnswerForm({}))
