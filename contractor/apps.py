"""How the firm’s room is known to the project."""

from django.apps import AppConfig


class ContractorConfig(AppConfig):
    name = "contractor"
    default_auto_field = "django.db.models.BigAutoField"
