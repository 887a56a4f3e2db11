"""Exclusion constraints over plain columns, and search by likeness."""

from django.contrib.postgres.operations import BtreeGistExtension, TrigramExtension
from django.db import migrations


class Migration(migrations.Migration):
    operations = [BtreeGistExtension(), TrigramExtension()]
