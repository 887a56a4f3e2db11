"""What comes out when the load rules are worked a second time, in plain floats, from the sources?

Written from NFPA 70-2017 Article 220 as summed up in the check values, not from `panels/rules`:
volt-amperes in and out, no units, no tables shared with the program.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

Load = Mapping[str, Any]  # kind, va, volts, and flags, one for each piece (`count` is unrolled)

COLUMN_C = (8, 11, 14, 17, 20, 21, 22, 23, 24, 25, *range(26, 41))  # kW for 1 to 25 ranges
COLUMN_A = (80, 75, 70, 66, 62, 59, 56, 53, 51, 49, 47, 45, 43, 41, 40, 39, 38, 37, 36, 35, 34, 33,
            32, 31, 30)  # fmt: skip
COLUMN_B = (80, 65, 55, 50, 45, 43, 40, 36, 35, 34, 32, 32, 32, 32, 32, 28, 28, 28, 28, 28, 26, 26,
            26, 26, 26)  # fmt: skip
DRYERS = (100, 100, 100, 100, 85, 75, 65, 60, 55, 50, 47)
APARTMENTS = (  # up to so many units: per cent (Table 220.84)
    (5, 45), (7, 44), (10, 43), (11, 42), (13, 41), (15, 40), (17, 39), (20, 38), (21, 37),
    (23, 36), (25, 35), (27, 34), (30, 33), (31, 32), (33, 31), (36, 30), (38, 29), (42, 28),
    (45, 27), (50, 26), (55, 25), (61, 24), (math.inf, 23),
)  # fmt: skip
FIXED = ("appliance", "water_heater")
COOKING = ("range", "oven", "cooktop")


def lighting(area: float, small: int, laundry: int, edition: str) -> float:
    """Table 220.42 on 3 VA/ft2 (2 from 2026 on) and 1500 VA for each circuit."""
    return tiers(area * (2 if edition == "2026" else 3) + 1500 * (small + laundry))


def tiers(va: float) -> float:
    return min(va, 3000) + 0.35 * max(min(va, 120000) - 3000, 0) + 0.25 * max(va - 120000, 0)


def column_c(count: int) -> float:
    """kW of so many ranges of 12 kW."""
    if count <= 25:
        return COLUMN_C[count - 1]
    return 15 + count if count <= 40 else 25 + 0.75 * count


def smaller(count: int, column: Sequence[int]) -> float:
    """The factor of column A or B."""
    if count <= 25:
        return column[count - 1] / 100
    if column is COLUMN_A:
        return 0.30
    return next(f for top, f in ((30, 0.24), (40, 0.22), (50, 0.20), (60, 0.18), (1e9, 0.16))
                if count <= top)  # fmt: skip


def ranges(kilowatts: Sequence[float], count: int | None = None) -> float:
    """VA by column C with notes 1 and 2: 5 % for each kW, or major fraction, above 12."""
    if not kilowatts:
        return 0.0
    mean = sum(max(one, 12.0) for one in kilowatts) / len(kilowatts)
    steps = math.floor(mean - 12 + 0.5 + 1e-9)
    return 1000 * column_c(count or len(kilowatts)) * (1 + 0.05 * steps)


def cooking(loads: Iterable[Load]) -> float:
    """Table 220.55 for one dwelling: column C for all, or note 3 for those up to 8.75 kW."""
    rated = [one["va"] / 1000 for one in loads if one["va"] > 1750]
    low = [one for one in rated if one < 3.5]
    middle = [one for one in rated if 3.5 <= one <= 8.75]
    large = [one for one in rated if one > 8.75]
    note_3 = 1000 * sum(low) * (smaller(len(low), COLUMN_A) if low else 0)
    note_3 += 1000 * sum(middle) * (smaller(len(middle), COLUMN_B) if middle else 0)
    return min(ranges(rated), note_3 + ranges(large)) if rated else 0.0


def dryers(loads: Iterable[Load]) -> float:
    """Table 220.54, none below 5000 VA."""
    each = [max(one["va"], 5000) for one in loads]
    return sum(each) * dryer_factor(len(each))


def dryer_factor(count: int) -> float:
    if count <= 11:
        return DRYERS[max(count, 1) - 1] / 100
    if count <= 23:
        return (47 - (count - 11)) / 100
    return (35 - 0.5 * (count - 23)) / 100 if count <= 42 else 0.25


def vehicle(one: Load, edition: str) -> float:
    """220.57 from 2023 on: not below 7200 VA; the nameplate in 2026."""
    return max(one["va"], 7200) if edition == "2023" else one["va"]


def fixed_factor(loads: Sequence[Load], edition: str) -> float:
    """75 % of four or more; from 2023 on those of 500 VA and more count."""
    return 0.75 if sum(counts(one, edition) for one in loads) >= 4 else 1.0


def counts(one: Load, edition: str) -> bool:
    return edition in ("2017", "2020") or one["va"] >= 500


def standard(home: Mapping[str, Any], edition: str) -> dict[str, float]:
    """Part III for one dwelling without motors besides its compressors: load and neutral."""
    loads = home["loads"]
    of = {
        kind: [one for one in loads if one["kind"] == kind]
        for kind in {one["kind"] for one in loads}
    }
    kinds = lambda *names: [one for name in names for one in of.get(name, [])]  # noqa: E731
    base = lighting(home["area"], home["small"], home["laundry"], edition)
    fixed = kinds(*FIXED)
    factor = fixed_factor(fixed, edition)
    parts = [(one, one["va"] * (factor if counts(one, edition) else 1.0)) for one in fixed]
    cook, dry = cooking(kinds(*COOKING)), dryers(kinds("dryer"))
    heat = sum(one["va"] for one in kinds("heating", "heat_pump", "supplement"))
    cool = sum(one["va"] for one in kinds("cooling", "heat_pump"))
    compressors = [one["va"] for one in kinds("heat_pump")]
    cooled = [one["va"] for one in kinds("cooling")]
    at_once = sum(one["va"] for one in kinds("other")) + sum(
        vehicle(one, edition) for one in kinds("vehicle"))  # fmt: skip
    worst = max(
        heat + 0.25 * max([0.0, *compressors]), cool + 0.25 * max([0.0, *compressors, *cooled])
    )
    if edition != "2017" and 0 < cool < heat:  # 220.60 from 2020 on, from memory
        worst = max(worst, 1.25 * cool)
    neutral = base + 0.7 * (cook + dry)
    neutral += sum(va for one, va in parts if one["volts"] == 120)
    neutral += sum(one["va"] for one in kinds("other") if one["volts"] == 120)
    return {
        "load": base + sum(va for _, va in parts) + cook + dry + worst + at_once,
        "neutral": neutral,
        "cooking": cook,
        "dryers": dry,
        "lighting_demand": base,
    }


def climate_optional(loads: Sequence[Load]) -> float:
    """220.82(C): the largest of its six, compressors that run with the supplement beside it."""
    total = lambda *names: sum(one["va"] for one in loads if one["kind"] in names)  # noqa: E731
    heaters = [one for one in loads if one["kind"] == "heating"]
    apart = len(heaters) >= 4 and all(one.get("apart") for one in heaters)
    return max(
        total("cooling", "heat_pump"),
        total("heat_pump") + 0.65 * total("supplement"),
        total("heating") * (0.40 if apart else 0.65),
    )


def optional(home: Mapping[str, Any], edition: str) -> float:
    """220.82, the vehicle supply within the 40 % tier until 2023."""
    first = 8000 if edition == "2026" else 10000
    unit = 2 if edition == "2026" else 3
    general = unit * home["area"] + 1500 * (home["small"] + home["laundry"])
    apart = 0.0
    for one in home["loads"]:
        if one["kind"] in ("heating", "heat_pump", "supplement", "cooling"):
            continue
        va = vehicle(one, edition) if one["kind"] == "vehicle" else one["va"]
        if one["kind"] == "vehicle" and edition == "2026":
            apart += va
        else:
            general += va
    return min(general, first) + 0.4 * max(general - first, 0) + apart + climate_optional(
        home["loads"])  # fmt: skip


def existing(home: Mapping[str, Any], edition: str, *, new_climate: bool) -> float:
    """220.83: 8 kVA, then 40 %, and the larger of heat and cooling in full.

    Where nothing is new of heat and cooling, (A) does not name them; the careful reading is kept.
    In 2026 vehicle supply stands outside the tiers as in 120.82; 120.83 was not seen.
    """
    unit = 2 if edition == "2026" else 3
    general = unit * home["area"] + 1500 * (home["small"] + home["laundry"])
    loads = home["loads"]
    heaters = [one for one in loads if one["kind"] == "heating"]
    heat = sum(one["va"] for one in heaters)
    cool = sum(one["va"] for one in loads if one["kind"] == "cooling")
    full = 0.0
    for one in loads:
        if one["kind"] == "vehicle":
            va = vehicle(one, edition)
            full, general = (full + va, general) if edition == "2026" else (full, general + va)
        elif one["kind"] not in ("heating", "cooling"):
            general += one["va"]
    if new_climate and len(heaters) >= 4:  # four and more are not named by (B)
        general, heat = general + heat, 0.0
    return min(general, 8000) + 0.4 * max(general - 8000, 0) + full + max(heat, cool)


def apartments(count: int, home: Mapping[str, Any], edition: str) -> float:
    """220.84 for so many alike dwellings: everything connected times the factor of their number."""
    unit = 2 if edition == "2026" else 3
    each = unit * home["area"] + 1500 * (home["small"] + home["laundry"])
    full, climate = 0.0, {"heating": 0.0, "cooling": 0.0}
    for one in home["loads"]:
        if one["kind"] in climate:
            climate[one["kind"]] += one["va"]
        else:
            va = vehicle(one, edition) if one["kind"] == "vehicle" else one["va"]
            if one["kind"] == "vehicle" and edition == "2026":  # as in 120.82; 120.84 not seen
                full += count * va
            else:
                each += va
    each += max(climate.values())
    return full + count * each * next(per for top, per in APARTMENTS if count <= top) / 100
