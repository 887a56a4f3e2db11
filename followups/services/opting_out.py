"""No more check-ins to this address, or again, by the link in the mail and without sign-in."""

from __future__ import annotations

import datetime as dt
import uuid

from django.core import signing
from django.db import transaction

from followups.cadence import rules
from followups.cadence.words import Kind, Reason
from followups.models import Message, OptOut
from followups.queries import outbox, timing
from followups.services import letters, owing


def message_of(token: str) -> Message | None:
    """The message whose stop link this is, or None for a token we did not make."""
    try:
        key = letters.stop_signer().unsign(token)
        return Message.objects.select_related("job", "customer", "person").get(
            pk=uuid.UUID(hex=key)
        )
    except (signing.BadSignature, ValueError, Message.DoesNotExist):
        return None


@transaction.atomic
def stop(*, message: Message, now: dt.datetime) -> None:
    """From now on nothing optional goes to this address; what is waiting is taken back.

    Both the address it went to and the customer's present one are meant.
    """
    addresses = {address for address in (message.to, outbox.current_address(message)) if address}
    for address in addresses:
        OptOut.objects.get_or_create(
            address_hash=timing.address_hash(address), defaults={"at": now}
        )
    optional = [kind for kind in Kind if rules.RULES[kind].optional]
    waiting = Message.objects.filter(kind__in=optional, to__in=addresses)
    owing.take_back(waiting, reason=Reason.OPTED_OUT)


@transaction.atomic
def resume(*, message: Message) -> None:
    """They changed their mind; later check-ins come again, those taken back do not."""
    addresses = {message.to, outbox.current_address(message)}
    OptOut.objects.filter(
        address_hash__in=[timing.address_hash(address) for address in addresses if address]
    ).delete()
