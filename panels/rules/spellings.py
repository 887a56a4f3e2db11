"""How else do people write the words a description chooses from?

One table for every calculation: capital letters, spaces and the trade's other words for the same
thing lead to the word the field knows. What could mean two things is left as it is, and refused.
"""

from __future__ import annotations

import re
from typing import Any

KINDS = {
    "ev": "vehicle", "evse": "vehicle", "ev_charger": "vehicle", "charger": "vehicle",
    "electric_vehicle": "vehicle", "ac": "cooling", "a/c": "cooling", "a_c": "cooling",
    "air_conditioner": "cooling", "air_conditioning": "cooling", "heat": "heating",
    "heater": "heating", "space_heating": "heating", "electric_heat": "heating",
    "wh": "water_heater", "waterheater": "water_heater", "stove": "range", "cook_top": "cooktop",
    "wall_oven": "oven", "clothes_dryer": "dryer", "heatpump": "heat_pump",
    "supplemental_heat": "supplement", "supplementary_heat": "supplement",
    "backup_heat": "supplement", "dishwasher": "appliance", "disposal": "appliance",
    "disposer": "appliance", "fixed_appliance": "appliance", "microwave": "appliance",
}  # fmt: skip
SYSTEMS = {
    "120/240": "1ph-240", "240/120": "1ph-240", "120/2401ph": "1ph-240",
    "120/2401phase": "1ph-240", "120/240singlephase": "1ph-240",
    "1ph240": "1ph-240",
    "208y/120twolegsandneutral": "1ph-208", "208y/1201ph": "1ph-208", "120/2081ph": "1ph-208",
    "208y/120singlephase": "1ph-208", "120/208singlephase": "1ph-208", "1ph208": "1ph-208",
    "208y/120threephase": "3ph-208", "208y/1203ph": "3ph-208", "208y/1203phase": "3ph-208",
    "120/2083ph": "3ph-208", "3ph208": "3ph-208",
    "120/240threephasehighleg": "3ph-240", "120/240highleg": "3ph-240", "3ph240": "3ph-240",
    "480y/277": "3ph-480", "277/480": "3ph-480", "480y/277threephase": "3ph-480",
    "480y/2773ph": "3ph-480", "3ph480": "3ph-480",
}  # fmt: skip
METALS = {"copper": "cu", "aluminum": "al", "aluminium": "al"}
RACEWAYS = {
    "nonmetallic": "pvc", "cable": "pvc", "nm": "pvc", "nm-b": "pvc", "aluminum": "al",
    "aluminium": "al", "emt": "steel", "imc": "steel", "rmc": "steel",
}  # fmt: skip
ALIASES: dict[str, dict[str, str]] = {
    "kind": KINDS,
    "metal": METALS,
    "ground_metal": METALS,
    "service_metal": METALS,
    "raceway": RACEWAYS,
    "transfer": {},
    "occupancy": {},
    "method": {"range": "cooking", "ranges": "cooking", "dryer": "dryers"},
}

UNITS = {  # to the short spelling of the unit
    "volt-ampere": "va", "volt-amperes": "va", "voltamperes": "va", "volt amperes": "va",
    "kilovolt-amperes": "kva", "watt": "w", "watts": "w", "kilowatt": "kw", "kilowatts": "kw",
    "horsepower": "hp", "ampere": "a", "amperes": "a", "volt": "v", "volts": "v",
    "square feet": "ft2", "square foot": "ft2", "sq feet": "ft2", "sq foot": "ft2", "sf": "ft2",
    "ft sq": "ft2", "square meters": "m2", "square metres": "m2", "sq m": "m2", "sqm": "m2",
    "feet": "ft", "foot": "ft", "meter": "m", "meters": "m", "metre": "m", "metres": "m",
    "hour": "h", "hours": "h", "hr": "h", "hrs": "h", "minute": "min", "minutes": "min",
    "inch": "in", "inches": "in", "ohms": "ohm", "kiloamperes": "ka", "deg c": "c", "deg f": "f",
    "celsius": "c", "fahrenheit": "f", "mcm": "kcmil", "in-lb": "lb-in", "in-lbs": "lb-in",
    "lb-ins": "lb-in", "lbf-in": "lb-in", "ft-lb": "lb-ft", "ft-lbs": "lb-ft", "mohm": "megohm",
    "mω": "megohm", "va per square foot": "va/ft2", "va/sq ft": "va/ft2", "w/sq ft": "w/ft2",
    "ohm/1000 ft": "ohm/kft", "ohms/kft": "ohm/kft", "ohms/1000 ft": "ohm/kft",
    "ohm per 1000 ft": "ohm/kft", "ohms per 1000 ft": "ohm/kft",
}  # fmt: skip


def spelt(name: str, given: Any) -> Any:
    """What was given for the field of that name, in the word the field knows where there is one."""
    if not isinstance(given, str) or len(given) > 60:
        return given
    if name == "system":
        plain = re.sub(r"v\b|volts?\b|nominal|[^a-z0-9/]", "", given.lower())
        plain = re.sub(r"(?<!\d)[34]wire|[34]wire$", "", plain)
        return SYSTEMS.get(plain, given)
    if name not in ALIASES:
        return given
    plain = re.sub(r"[ _]+", "_", given.strip().lower())
    return ALIASES[name].get(plain, plain)
