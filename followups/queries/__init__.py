"""What the follow-up rows say."""

from followups.queries.praise import unread_thanks

__all__ = ["unread_thanks"]
