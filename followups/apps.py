from django.apps import AppConfig


class FollowupsConfig(AppConfig):
    name = "followups"
    default_auto_field = "django.db.models.BigAutoField"
