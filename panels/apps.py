"""How the panels room is known to the project."""

from django.apps import AppConfig


class PanelsConfig(AppConfig):
    name = "panels"
    default_auto_field = "django.db.models.BigAutoField"
