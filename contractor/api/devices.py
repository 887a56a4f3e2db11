"""Which person does this device token speak for?"""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone
from knox.auth import TokenAuthentication

from contractor.models import Device, Person

USED_EVERY = timedelta(minutes=1)


class DeviceToken(TokenAuthentication):
    """A device's token (knox keeps only its hash), with the time it was last used."""

    def authenticate_credentials(self, token: bytes) -> tuple[Person, Device]:
        person, device = super().authenticate_credentials(token)
        now = timezone.now()
        if device.last_used_at is None or now - device.last_used_at > USED_EVERY:
            Device.objects.filter(pk=device.pk).update(last_used_at=now)
        return person, device
