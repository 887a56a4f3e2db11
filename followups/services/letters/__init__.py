"""What exactly do we say? One function per kind of message, one look for all of them."""

from followups.services.letters.after_work import (
    callback_received,
    check_in,
    danger,
    praise,
    reminder,
    walk_through,
)
from followups.services.letters.paper import Letter, Words, stop_address, stop_signer, write
from followups.services.letters.visits import called_off, confirmed, moved

__all__ = [
    "Letter",
    "Words",
    "callback_received",
    "called_off",
    "check_in",
    "confirmed",
    "danger",
    "moved",
    "praise",
    "reminder",
    "stop_address",
    "stop_signer",
    "walk_through",
    "write",
]
