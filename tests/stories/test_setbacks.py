"""What does not go as planned: nobody at home, someone ill, a lost link, a job opened again."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

import pytest
import time_machine

from contractor.models import Crew, CustomerLink, Person
from contractor.services.links import link_for
from followups.models import Message
from followups.services.sweep import send_due
from jobs.models import Job, Visit
from tests.factories import contractor, field, jobs
from tests.mailbox import Mailbox
from tests.stories.conftest import MONDAY, monday
from tests.stories.steps import office as steps
from tests.stories.visitor import Page, Visitor

pytestmark = pytest.mark.django_db
Clock = time_machine.Traveller
TUESDAY = MONDAY + dt.timedelta(days=1)


def job_page(office: Visitor, job: Job) -> Page:
    return office.open(f"/jobs/{job.pk}/")


def sweep(clock: Clock, moment: dt.datetime) -> None:
    clock.move_to(moment)
    send_due(clock=lambda: moment)


@pytest.fixture
def call(office: Visitor, crew: Crew) -> Job:
    """A service call that the crew is on, Monday at eight."""
    job = jobs.job(of="Service call", title="Lights flicker")
    jobs.planned("Service call", of=job, by_crew=crew, starts_at=monday(8))
    return job


def test_nobody_at_home_so_the_visit_is_made_on_another_day(
    office: Visitor, technician: Visitor, call: Job, clock: Clock, smtp: Mailbox
) -> None:
    sweep(clock, monday(9) - dt.timedelta(days=3))
    clock.move_to(monday(8, 5))
    street = call.site.street
    here = technician.open("/day/").follow(street).press("I am here")
    words = "Gate locked, nobody answers the phone."
    here.press("Save the notes", {"What the next one should know": words})
    technician.open(here.url).press("Not here after all").says("nobody has arrived yet")

    page = job_page(office, call).says(words)
    steps.plan(page, "Service call", "Creek crew", jobs.at(10, day=TUESDAY)).says("is moved.")
    technician.open("/day/").says("No visit for you on this day").says("Tue Dec. 1, 10 a.m.")
    technician.open(f"/day/?on={TUESDAY}").at(street).says("Lights flicker")
    sweep(clock, monday(9))
    assert [mail["Subject"] for mail in smtp.messages] == [
        "Your electrician: Monday, November 30, about 8 a.m.",
        "New time for your electrician: Tuesday, December 1, about 10 a.m.",
    ]


def test_someone_who_is_ill_is_not_sent_anywhere_and_the_move_can_be_undone(
    office: Visitor, crew: Crew, call: Job, clock: Clock
) -> None:
    ill = crew.people.get(name="Rhys Okafor")
    page = office.open(f"/people/{ill.pk}/").follow("Add days away")
    days = {"First day": str(TUESDAY), "Last day": str(TUESDAY), "Reason": "sick"}
    page.press("Save", days).says("sick")

    page = job_page(office, call)
    away = "Rhys Okafor is away (sick) Tue Dec. 1."
    steps.refused(page, "Service call", "Creek crew", jobs.at(10, day=TUESDAY), away)
    other = jobs.crew(jobs.person("Ivo Larch"), name="Mill crew")
    moved = steps.plan(page, "Service call", "Mill crew", jobs.at(10, day=TUESDAY))
    steps.visit(page, "Service call").says("Ivo Larch", "Tue Dec. 1, 10 a.m.")
    moved.press("Undo").says("is back as it was.")
    steps.visit(page, "Service call").says("Rhys Okafor", "Mon Nov. 30, 8 a.m.")
    assert not Visit.objects.filter(crew=other).exists()


def test_a_link_taken_back_shows_nothing_of_the_home(office: Visitor, clock: Clock) -> None:
    panel = field.house(jobs.job(of="Service call"))
    door = CustomerLink.Purpose.DOOR
    link = link_for(site=panel.site, purpose=door, subject=panel.pk, now=jobs.NOW)
    stranger = Visitor()
    page = stranger.open(f"/home/{link.token}/").says("Your electrical panels", panel.site.street)
    end = office.open(f"/sites/{panel.site_id}/").at("code on the panel door")
    end.follow("Take it back").press("Take it back").says("taken back")
    gone = stranger.open(page.url, expect=410).says("This link is no longer good")
    gone.lacks(panel.site.street, panel.name)
    stranger.open(f"/home/{link.token[:-1]}x/", expect=404).lacks(panel.site.street)


def test_a_job_opened_again_asks_the_customer_nothing_until_it_is_closed_again(
    office: Visitor, technician: Visitor, crew: Crew, clock: Clock, smtp: Mailbox
) -> None:
    visit = field.ready("Service call", people=list(crew.people.all()))
    job, url = visit.job, f"/jobs/{visit.job_id}/close-out/"
    clock.move_to(visit.ends_at)
    technician.open(url).follow("Close").press("Close the job").says("is closed.")
    technician.open(f"{url}reopen/", expect=403)

    record = office.open(f"{url}record/")
    why = {"Why it is opened again": "A receptacle was forgotten."}
    record.follow("Open the job again").press("Open", why).says("The job is open again.")
    office.open(record.url).says("A receptacle was forgotten.")
    week = visit.ends_at + dt.timedelta(days=9)
    sweep(clock, week)
    assert not [mail for mail in smtp.messages if "Is all well?" in mail["Subject"]]

    technician.sign_in(crew.people.get(name="Rhys Okafor").email, contractor.PASSWORD)
    technician.open(url).follow("Close").press("Close the job").says("is closed.")
    sweep(clock, week + dt.timedelta(days=8))
    asked = [mail for mail in smtp.messages if "Is all well?" in mail["Subject"]]
    assert len(asked) == 1
    kept = Message.objects.filter(job=job, kind="check_in").values_list("state", flat=True)
    assert sorted(kept) == ["sent", "skipped"]


def test_two_who_change_one_thing_are_told_of_each_other(office: Visitor, call: Job) -> None:
    mine, theirs = (job_page(office, call).follow("Change") for _each in range(2))
    mine.press("Save", {"What is to be done": "Lights flicker upstairs"}).says("Changed.")
    late = theirs.press("Save", {"What is to be done": "Lights flicker in the hall"}, expect=422)
    late.says("changed")
    assert "Lights flicker in the hall" in late_value(late, "title")
    call.refresh_from_db()
    assert call.title == "Lights flicker upstairs"


def late_value(page: Page, name: str) -> list[str]:
    return [one.get("value", "") for one in page.root.iter("input") if one.get("name") == name]


@pytest.mark.parametrize("role", [contractor.OwnerFactory, contractor.CoordinatorFactory])
def test_someone_who_leaves_the_firm_is_out_at_once(
    role: Callable[..., Person], db: None, clock: Clock
) -> None:
    contractor.FirmFactory()
    owner, leaving = contractor.OwnerFactory(), role(name="Ivo Larch")
    there, boss = Visitor(), Visitor()
    there.sign_in(leaving.email, contractor.PASSWORD).says("Getting started")
    boss.sign_in(owner.email, contractor.PASSWORD)
    page = boss.open(f"/people/{leaving.pk}/").follow("Change")
    page.press("Save", {"Works here now": False})
    there.open("/customers/").says("Sign in").lacks("Add a customer")
    there.open("/sign-in/").press(
        "Sign in", {"E-mail": leaving.email, "Password": contractor.PASSWORD}, expect=422
    )
