"""How the jobs room is known to the project; its first kinds come with the migrations."""

from typing import Any

from django.apps import AppConfig
from django.apps import apps as all_apps
from django.db.models.signals import post_migrate


class JobsConfig(AppConfig):
    name = "jobs"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        post_migrate.connect(first_kinds, sender=self)


def first_kinds(*, apps: Any = all_apps, **_: Any) -> None:
    """Give an empty firm its job kinds as soon as the tables stand, as the framework itself
    does with permissions: also after tests have emptied every table."""
    try:
        apps.get_model("jobs", "JobKind")
    except LookupError:
        return  # migrated up to another room only
    from jobs.services.first_kinds import load_kinds

    load_kinds()
