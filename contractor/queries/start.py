"""What has a firm that just began still to do?"""

from __future__ import annotations

from dataclasses import dataclass

from django.apps import apps
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from contractor.models import Authority, Crew, Customer, Firm, Licence, Person, Site


@dataclass(frozen=True)
class Task:
    """One thing to do: what, why it matters, where, and whether it is done."""

    what: str | Promise
    why: str | Promise
    page: str
    done: bool
    optional: bool = False

    @property
    def url(self) -> str:
        return reverse(self.page, args=["authorities"] if self.page == "entries" else [])


def tasks(firm: Firm | None) -> list[Task]:
    """Everything between an empty firm and its first booked job, in the order it is needed."""
    people = Person.objects.filter(is_active=True)
    return [
        Task(
            _("Say who you are"),
            _("Licence number and phone go on every directory, permit and mail."),
            "firm",
            bool(firm and firm.licence_number and firm.phone),
        ),
        Task(
            _("Add your people"),
            _("Each gets a mail with which to set a password. The role decides what they see."),
            "person-add",
            people.count() > 1,
        ),
        Task(
            _("Enter licences"),
            _("A visit that needs a journeyman only goes to one whose licence is good that day."),
            "people",
            Licence.objects.exists(),
        ),
        Task(
            _("Make up crews"),
            _("Who goes out together, in which van."),
            "crew-add",
            Crew.objects.filter(is_active=True, members__isnull=False).exists(),
        ),
        Task(
            _("Enter the authorities you work under"),
            _("Who issues permits and inspects, and how long a permit stays good."),
            "entries",
            Authority.objects.exists(),
        ),
        Task(
            _("Look through the kinds of job"),
            _("Some are there already: change their visits, inspections and lists to your way."),
            "kinds",
            _any("jobs.JobKind"),
            optional=True,
        ),
        Task(
            _("Add your first customer"),
            _("One by one, or all at once from a list you keep in a spreadsheet."),
            "customer-add",
            Customer.objects.exists(),
        ),
        Task(
            _("Add the place where the work is"),
            _("The site: its address, the authority and the utility there."),
            "customers",
            Site.objects.exists(),
        ),
        Task(
            _("Book your first job"),
            _("The kind lays out visits, permit and inspections; you change what differs."),
            "job-new",
            _any("jobs.Job"),
        ),
    ]


def _any(label: str) -> bool:
    """Rooms above are named in strings."""
    return bool(apps.get_model(label)._default_manager.exists())
