"""How is a telephone number read out?"""

from __future__ import annotations

import phonenumbers


def phone(number: str | None) -> str:
    """+16145550142 as (614) 555-0142; a foreign number with its country code; junk as it is."""
    if not number:
        return ""
    try:
        parsed = phonenumbers.parse(number, "US")
    except phonenumbers.NumberParseException:
        return number
    shape = phonenumbers.PhoneNumberFormat
    return phonenumbers.format_number(
        parsed, shape.NATIONAL if parsed.country_code == 1 else shape.INTERNATIONAL
    )
