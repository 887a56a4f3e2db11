"""What every record made in the field has in common."""

from __future__ import annotations

import uuid
from typing import ClassVar

import pgtrigger
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.errors import Stale


def bump_revision() -> pgtrigger.Trigger:
    """A trigger that raises `rev` on every change, so no writer can forget to."""
    return pgtrigger.Trigger(
        name="bump_rev",
        when=pgtrigger.Before,
        operation=pgtrigger.Update,
        condition=pgtrigger.AnyChange(),
        func="NEW.rev = OLD.rev + 1; NEW.changed_at = now(); RETURN NEW;",
    )


def never_altered() -> pgtrigger.Protect:
    """A trigger that refuses update and delete: the row can only be superseded."""
    return pgtrigger.Protect(name="never_altered", operation=pgtrigger.Update | pgtrigger.Delete)


class FieldRecord(models.Model):
    """A record a phone may create before any server has heard of it.

    `id` is made by whoever creates the record; `rev` counts its changes and is what an edit
    over the API must name as its base.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    rev = models.PositiveIntegerField(default=1, editable=False)
    changed_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        abstract = True
        triggers: ClassVar = [bump_revision()]

    @property
    def etag(self) -> str:
        """The strong entity tag of this revision (RFC 9110, 8.8.3)."""
        return f'"{self.rev}"'

    def require_rev(self, rev: int | None) -> None:
        """Refuse an edit based on another revision; None means the caller holds the row lock
        and just read it. Raises `Stale`."""
        if rev is not None and rev != self.rev:
            raise Stale(
                str(
                    _(
                        "Someone changed this since you opened it. "
                        "Look at it again, then repeat your change."
                    )
                ),
                current_rev=self.rev,
            )
