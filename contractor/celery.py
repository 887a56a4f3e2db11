"""The Celery app: which tasks there are, and that their settings are Django's."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.settings")

app = Celery("contractor")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
