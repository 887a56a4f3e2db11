"""Which answers do the records of this room allow where a word has to be chosen?"""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _


class Raceway(models.TextChoices):
    """The raceway as Chapter 9, Table 9 tells them apart; a cable counts as nonmetallic."""

    NONMETALLIC = "pvc", _("nonmetallic or cable")
    ALUMINIUM = "al", _("aluminum")
    STEEL = "steel", _("steel")
    UNKNOWN = "", _("not recorded")


class Material(models.TextChoices):
    COPPER = "cu", _("copper")
    ALUMINIUM = "al", _("aluminum")
    UNKNOWN = "", _("not recorded")


class Celsius(models.IntegerChoices):
    """Temperature ratings of insulation and of terminals."""

    C60 = 60, "60 °C"
    C75 = 75, "75 °C"
    C90 = 90, "90 °C"


class Serves(models.TextChoices):
    RECEPTACLES = "receptacles", _("receptacles")
    LIGHTS = "lights", _("lights")
    BOTH = "both", _("lights and receptacles")
    EQUIPMENT = "equipment", _("one piece of equipment")
    UNKNOWN = "", _("not recorded")


class Tap(models.TextChoices):
    """Which rule lets a feeder's conductors start without a device of their own (240.21)."""

    TEN_FEET = "10ft", _("10 ft")
    TWENTY_FIVE_FEET = "25ft", _("25 ft")
    OUTSIDE = "outside", _("outside")
    OTHER = "other", _("another rule, see the notes")
    NONE = "", _("none")


class Position(models.TextChoices):
    """Where a source's breaker stands on the bus, as 705.12 tells them apart."""

    OPPOSITE = "opposite", _("at the end away from the main")
    ANYWHERE = "anywhere", _("elsewhere on the bus")
    CENTRE = "centre", _("at one end of a center-fed panel")
    SUPPLY_SIDE = "supply", _("ahead of the main")
    UNKNOWN = "", _("not recorded")


class Transfer(models.TextChoices):
    MANUAL = "manual", _("by hand")
    AUTOMATIC = "automatic", _("by itself")
    UNKNOWN = "", _("not recorded")


class Occupancy(models.TextChoices):
    """Whose rules the service follows."""

    ONE_FAMILY = "one_family", _("one-family dwelling")
    TWO_FAMILY = "two_family", _("two-family dwelling")
    APARTMENTS = "apartments", _("three or more dwellings")
    OTHER = "other", _("not a dwelling")
    UNKNOWN = "", _("not recorded")
