"""The follow-ups' rows."""

from followups.models.answers import Reply, ReplyPhoto, Thanks
from followups.models.callbacks import Callback
from followups.models.messages import Message, OptOut

__all__ = ["Callback", "Message", "OptOut", "Reply", "ReplyPhoto", "Thanks"]
