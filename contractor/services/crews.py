"""Make up crews: who goes out together, and who leads."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.history import recorded
from contractor.models import Crew, CrewMember, Person
from contractor.services.saving import save_clean


@recorded
def save_crew(
    *, crew: Crew, values: Mapping[str, Any], people: Collection[Person], by: Person
) -> Crew:
    """Add or change a crew; `people` are all who belong to it. The lead is one of them."""
    if crew.pk:
        Crew.objects.select_for_update().get(pk=crew.pk)
    lead = values.get("lead", crew.lead)
    if lead is not None and lead not in people:
        told = _("The lead must be one of the people of the crew.")
        raise Invalid("lead_outside_crew", told, fields={"lead": told})
    save_clean(crew, values)
    crew.members.exclude(person__in=people).delete()
    here = set(crew.members.values_list("person_id", flat=True))
    CrewMember.objects.bulk_create(
        CrewMember(crew=crew, person=person) for person in people if person.pk not in here
    )
    return crew
