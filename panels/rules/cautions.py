"""What must be said beside a calculation, on screen and on paper?"""

from __future__ import annotations

CAUTIONS: dict[str, tuple[str, ...]] = {
    "planning": (
        "A planning aid. The adopted edition of the code, local amendments and the authority"
        " having jurisdiction govern; a licensed person must verify the result.",
    ),
    "load": (
        "The result is only as complete as the list of loads. Look at every nameplate; do not"
        " take a breaker's rating for a load.",
        "Published local forms sometimes count differently from the code; where the authority"
        " has its own form, its form decides.",
    ),
    "record": (
        "The rules are those for new work: existing work is judged by the code it was built under.",
        "A check of the record, not of the equipment; what is recorded may not be what is there.",
    ),
    "measured": (
        "Compared with the publications named, which do not apply everywhere: your utility, the"
        " contract and the equipment's maker decide.",
        "Only a qualified person measures at open equipment, with an instrument proved before and"
        " after.",
    ),
    "isolation": (
        "De-energize before working (29 CFR 1910.333(a)(1)): lock and tag, then verify the absence"
        " of voltage with a rated tester proved before and after.",
        "Controls and interlocks are not isolation. Standby, solar and storage are further sources:"
        " open all of them.",
        "The line side of the main stays live with the main open; only the utility works on its"
        " side of the service point.",
    ),
    "shock": (
        "A fault-current figure is not an arc-flash study: a lower fault current can mean longer"
        " clearing and more energy.",
    ),
    "fault": (
        "A calculated fault current assumes its source data: ask the utility, and calculate again"
        " when its transformer changes (110.24(B)).",
    ),
    "voltage_drop": (
        "The 3 % and 5 % of voltage drop are advice in the code, not a rule (210.19, note).",
    ),
    "grounding": (
        "Grounding and bonding are looked at as a whole: electrodes, the main bonding jumper, metal"
        " piping and the raceways are not in this arithmetic.",
    ),
    "ampacity": (
        "Ampacity tables assume 30 °C and not more than three current-carrying conductors.",
    ),
    "meter": (
        "Hourly readings understate the quarter-hour demand. The metered method is not for sites"
        " with a renewable source or peak shaving.",
    ),
    "recording": (
        "A utility's interval data are the sum of the legs, not the highest loaded one: measure the"
        " legs at the panel before relying on what is left.",
        "The method asks that the feeder is protected by 240.4 and the service against overload by"
        " 230.90: look at the equipment.",
    ),
    "insulation": (
        "Before an insulation test disconnect electronics, surge protection, ground-fault and"
        " arc-fault devices; discharge the circuit afterwards.",
    ),
    "no_laundry": (
        "No laundry circuit is counted. A dwelling needs one unless the code's exception applies"
        " (210.11(C)(2)).",
    ),
    "standby": (
        "An estimate of energy, not a promise: weather, habits and an ageing battery change it.",
        "Transfer equipment must prevent standby and utility from ever being connected together;"
        " never feed a panel through a receptacle.",
        "More than one source: before work open all of them. Storage and solar stay live by"
        " themselves.",
    ),
    "managed": (
        "A set point holds only while the energy management system is installed, listed and set as"
        " described here (750.30).",
    ),
    "shop": (
        "The general rules are for premises that are no dwelling. Kitchens, elevators, welders,"
        " hazardous or medical rooms have rules of their own that are not in this arithmetic.",
        "Energy codes limit the installed lighting; they do not lower the load counted here.",
    ),
    "existing": (
        "The existing service equipment, its conductors and grounding must be in order and be"
        " looked at; the arithmetic does not see their condition.",
    ),
}


def cautions(*topics: str) -> tuple[str, ...]:
    """The texts of these topics in order, each once."""
    return tuple(dict.fromkeys(text for topic in topics for text in CAUTIONS[topic]))
