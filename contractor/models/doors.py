"""Ways in that are not a password: the customer's link and the device's token."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.core import signing
from django.db import models
from django.utils.translation import gettext_lazy as _
from knox.models import AbstractAuthToken

from contractor.models.people import Person
from contractor.models.places import Site


class Device(AbstractAuthToken):
    """A phone or program that may use the API: its token is kept only as a hash."""

    name = models.CharField(_("name"), max_length=60)
    last_used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["-created"]

    def __str__(self) -> str:
        return self.name


class CustomerLink(models.Model):
    """A page a customer may read without an account, until it expires or is taken back.

    The address carries the row's id and a signature over it; without the firm's secret key
    the row alone opens nothing, and without the row no signature does.
    """

    class Purpose(models.TextChoices):
        DOOR = "door", _("code on the panel door")
        MAIL = "mail", _("link in a mail")
        ANSWER = "answer", _("answer to a check-in")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    site = models.ForeignKey(Site, models.CASCADE, related_name="links")
    purpose = models.CharField(max_length=8, choices=Purpose.choices)
    subject = models.UUIDField(null=True, blank=True)
    created_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    opened = models.PositiveIntegerField(default=0)

    class Meta:
        ordering: ClassVar = ["-created_at"]

    def __str__(self) -> str:
        return f"{self.get_purpose_display()}: {self.site}"

    @property
    def token(self) -> str:
        """`id.signature`, safe in an address."""
        return signing.Signer(salt=f"link.{self.purpose}", sep=".").sign(self.id.hex)


class PasswordLetter(models.Model):
    """A mail owed to whoever uses this address here: how to set a password.

    The address is kept as typed, whether or not anyone here has it, so that asking looks and
    lasts the same for a stranger's address.
    """

    class Why(models.TextChoices):
        INVITED = "invited", _("invited")
        FORGOTTEN = "forgotten", _("forgotten")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    email = models.EmailField()
    why = models.CharField(max_length=10, choices=Why.choices)
    asked_at = models.DateTimeField()
    tried_at = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["asked_at"]
        indexes: ClassVar = [
            models.Index(
                fields=["asked_at"], condition=models.Q(done_at__isnull=True), name="letter_owed"
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_why_display()}: {self.email}"
