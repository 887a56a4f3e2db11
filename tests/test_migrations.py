"""Does every change of a model have its migration?"""

import pytest
from django.core.management import call_command

pytestmark = pytest.mark.django_db


def test_no_migration_is_missing() -> None:
    try:
        call_command("makemigrations", check=True, dry_run=True, verbosity=1)
    except SystemExit:
        pytest.fail("a model changed without a migration: run `manage.py makemigrations`")
