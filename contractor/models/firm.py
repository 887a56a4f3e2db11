"""The firm itself: one row, read by every page."""

from __future__ import annotations

import datetime as dt
import zoneinfo

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models.fields import MailField, PhoneField, StateField, ZipField


def check_time_zone(name: str) -> None:
    try:
        zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError) as error:
        raise ValidationError(_("Choose a time zone from the list.")) from error


TO_ANSWER = 14  # days a check-in may still be answered, its reminder included


def monday_to_friday() -> list[int]:
    return [1, 2, 3, 4, 5]


@kept()
class Firm(models.Model):
    """One firm per database: isolation by construction."""

    name = models.CharField(_("name"), max_length=120)
    licence_number = models.CharField(_("contractor licence number"), max_length=40, blank=True)
    phone = PhoneField(_("phone"), blank=True)
    email = MailField(_("e-mail"), blank=True)
    street = models.CharField(_("street"), max_length=120, blank=True)
    city = models.CharField(_("city"), max_length=80, blank=True)
    state = StateField(_("state"), blank=True)
    zip = ZipField(_("ZIP code"), blank=True)
    time_zone = models.CharField(
        _("time zone"), max_length=40, default="America/New_York", validators=[check_time_zone]
    )
    locale = models.CharField(
        _("dates and numbers as in"),
        max_length=10,
        default="en-us",
        choices=[("en-us", _("English, United States")), ("es-mx", _("Spanish formats"))],
    )
    work_starts = models.TimeField(_("working day starts"), default=dt.time(7, 0))
    work_ends = models.TimeField(_("working day ends"), default=dt.time(17, 0))
    workdays = models.JSONField(_("working days"), default=monday_to_friday)
    check_in_days = models.PositiveSmallIntegerField(
        _("days from close-out to check-in"), default=7
    )
    messages_from = models.TimeField(_("messages go out from"), default=dt.time(9, 0))
    messages_until = models.TimeField(_("messages go out until"), default=dt.time(20, 0))
    link_days = models.PositiveSmallIntegerField(_("days a mailed link stays good"), default=90)
    door_link_days = models.PositiveSmallIntegerField(
        _("days the code on a panel door stays good"), default=1825
    )

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="only_one_firm"),
            models.CheckConstraint(
                condition=models.Q(work_ends__gt=models.F("work_starts")),
                name="work_ends_after_start",
            ),
            models.CheckConstraint(
                condition=models.Q(messages_until__gt=models.F("messages_from")),
                name="messages_end_after_start",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        """The table's own rules in words, and times that would let a promise come to nothing."""
        faults = {
            "work_ends": (
                self.work_ends <= self.work_starts,
                _("The working day ends before it starts."),
            ),
            "messages_until": (
                self.messages_until <= self.messages_from,
                _("This comes before the hour from which messages go out."),
            ),
            "check_in_days": (self.check_in_days < 1, _("One day or more.")),
            "link_days": (
                self.link_days < self.check_in_days + TO_ANSWER,
                _("The check-in’s link must outlast it by two weeks, to be answered with."),
            ),
            "door_link_days": (self.door_link_days < 1, _("One day or more.")),
        }
        told = {name: says for name, (is_wrong, says) in faults.items() if is_wrong}
        if told:
            raise ValidationError(told)

    @property
    def zone(self) -> zoneinfo.ZoneInfo:
        return zoneinfo.ZoneInfo(self.time_zone)
