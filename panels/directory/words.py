"""In which words does a directory say what feeds what, for the trade and on paper?"""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.templatetags.paper import phone
from panels.directory.content import Circuit, Directory, Identity, Issuer, Source, Supply
from panels.directory.schedule import Part
from panels.rules.layout import System

# How a breaker's own protection is marked on its label (common practice, no source).
PROTECTION = {"gfci": "GFCI", "afci": "AFCI", "dual": "AFCI/GFCI"}
KINDS = {
    "branch": gettext_lazy("circuit"),
    "feeder": gettext_lazy("feeder"),
    "source": gettext_lazy("source"),
    "spare": gettext_lazy("spare"),
}


def circuit_name(circuit: Circuit | None) -> str:
    """What the space serves. An unused breaker is a spare, an empty position a space (408.4(A))."""
    if circuit is None:
        return _("space")
    if circuit.kind == "spare":
        return _("spare: %(name)s") % {"name": circuit.name} if circuit.name else _("spare")
    if not circuit.feeds:
        return circuit.name
    if circuit.feeds.casefold() in circuit.name.casefold():
        return _("%(name)s (feeder)") % {"name": circuit.name}
    return _("%(name)s, feeder to %(panel)s") % {"name": circuit.name, "panel": circuit.feeds}


def asides(part: Part) -> list[str]:
    """What else to know about a breaker before touching it."""
    circuit = part.item
    if circuit is None:
        return []
    found = []
    if part.beside:
        found.append(_("with %(mark)s") % {"mark": part.beside})
    if circuit.multiwire:
        found.append(_("multiwire %(group)s") % {"group": circuit.multiwire})
    if circuit.backed_up:
        found.append(_("backed up"))
        if circuit.shed_order:
            found.append(_("sheds %(order)s") % {"order": circuit.shed_order})
    return found


def for_customer(circuit: Circuit) -> str:
    """What someone who lives there may want to know about the breaker."""
    return _("planned to stay on in an outage") if circuit.backed_up else ""


def supplied(supply: Supply) -> str:
    """Where the power comes from, as 408.4(B) wants it said on a fed panel."""
    if supply.way == "service":
        return _("Fed by the service")
    if supply.way == "lugs":
        return _("Fed through the feed-through lugs of %(panel)s") % {"panel": supply.panel}
    where = _("spaces") if "," in supply.spaces else _("space")
    return _("Fed from %(panel)s, %(where)s %(spaces)s, %(amps)s A") % {
        "panel": supply.panel,
        "where": where,
        "spaces": supply.spaces,
        "amps": supply.rating_a,
    }


def disconnect(identity: Identity, supply: Supply) -> str:
    """Where this panel is switched off."""
    if identity.main_a:
        return _("Main breaker %(amps)s A, in this panel") % {"amps": identity.main_a}
    if supply.way == "feeder":
        return _("In %(panel)s, %(where)s %(spaces)s") % {
            "panel": supply.panel,
            "where": _("spaces") if "," in supply.spaces else _("space"),
            "spaces": supply.spaces,
        }
    if supply.way == "lugs":
        return _("With %(panel)s") % {"panel": supply.panel}
    return _("Main lugs only: at the service disconnect")


def system(identity: Identity) -> str:
    return System(identity.system).label


def sources(found: Sequence[Source]) -> list[tuple[str, str]]:
    """Each source and where it is disconnected, or that nobody wrote it down."""
    return [
        (one.name, one.disconnect_at or _("disconnect not recorded: find it before you rely on it"))
        for one in found
    ]


def cautions(directory: Directory) -> list[str]:
    """What to know before opening this panel. Local codes and the authority have the last word."""
    found = []
    if directory.several_sources:
        found.append(
            _(
                "More than one source of supply. With the service off, conductors here can "
                "still be live: open every disconnect named on this sheet."
            )
        )
    if directory.supply.way == "service":
        found.append(
            _("The line side of the main stays live with the main off; only the utility cuts it.")
        )
    else:
        found.append(
            _("The conductors feeding this panel stay live until %(panel)s is switched off.")
            % {"panel": directory.supply.panel}
        )
    return [
        *found,
        _(
            "Covers come off only for qualified persons: switch off, lock out, and test for "
            "voltage before touching. A directory can be wrong."
        ),
        _(
            "The adopted code, local amendments and the authority having jurisdiction govern; this "
            "directory is a record, not an approval."
        ),
    ]


def firm(issuer: Issuer) -> dict[str, str]:
    """Who answers for the paper, as its title block has it."""
    number = issuer.licence_number
    return {
        "name": issuer.name,
        "licence": _("Contractor licence %(number)s") % {"number": number} if number else "",
        "phone": phone(issuer.phone),
    }
