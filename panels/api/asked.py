"""Which row does a request name by key?"""

from __future__ import annotations

import uuid
from typing import TypeVar

from django.db import models
from django.utils.translation import gettext as _

from contractor.access import visible
from contractor.errors import Invalid
from contractor.models import Person

M = TypeVar("M", bound=models.Model)


def named(
    rows: type[M] | models.QuerySet[M], key: uuid.UUID | None, person: Person, *, field: str
) -> M | None:
    """The row a field names, None for null. What this person may not see is not there."""
    if key is None:
        return None
    queryset = rows if isinstance(rows, models.QuerySet) else rows._default_manager.all()
    found = visible(queryset, person).filter(pk=key).first()
    if found is None:
        sentence = _("There is no such record, or none you may see.")
        raise Invalid("no_such_record", sentence, fields={field: sentence})
    return found
