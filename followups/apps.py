"""How the follow-up room is known to the project."""

from django.apps import AppConfig


class FollowupsConfig(AppConfig):
    name = "followups"
    default_auto_field = "django.db.models.BigAutoField"
