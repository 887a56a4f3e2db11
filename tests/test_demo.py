"""Does the invented firm show something true on every list, at every step of a job's life?"""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from contractor.models import Crew, Person, Role, Site
from followups.demo import PASSWORD, rows, table
from followups.models import Callback, Message, Reply, Thanks
from jobs import queries
from jobs.models import CloseOut, Inspection, Job, Permit
from jobs.planning.steps import NextStep
from panels.models import Calculation, DirectoryRevision, Panel, Source
from tests.stories.visitor import Visitor

pytestmark = pytest.mark.usefixtures("invented_firm")

# Every list as the owner opens it, and the tag of its rows.
LISTS = {
    "/customers/": "tr", "/sites/": "li", "/people/": "tr", "/jobs/": "tr",
    "/jobs/?state=closed": "tr", "/jobs/?state=cancelled": "tr", "/permits/": "tr",
    "/permits/?lapsing=30": "tr", "/inspections/?state=due": "tr",
    "/inspections/?state=overdue": "tr", "/inspections/?state=failed": "tr", "/kinds/": "li",
    "/week/": "article", "/callbacks/": "tr", "/callbacks/?show=closed": "tr", "/replies/": "li",
    "/replies/?show=all": "li", "/replies/?show=silent": "tr", "/thanks/": "li",
    "/messages/?state=sent": "tr", "/messages/?state=due": "tr", "/adoptions/": "tr",
    "/lists/authorities/": "li", "/lists/utilities/": "li", "/lists/certificates/": "li",
}  # fmt: skip
TABLE_HEAD = {"tr": 1}


def person(name: str) -> Visitor:
    """Signed in with the password that is printed at every start."""
    visitor = Visitor()
    visitor.sign_in(f"{name}@tallowcreek.example", PASSWORD)
    return visitor


def test_it_is_the_firm_that_was_asked_for() -> None:
    assert Crew.objects.count() == 3
    assert Person.objects.count() == 9
    assert {person.role for person in Person.objects.all()} == set(Role.values)
    assert Site.objects.count() == 60
    assert Panel.objects.count() == 30
    came_back = Callback.objects.exclude(booked_as=None).count()
    assert Job.objects.count() == 40 + came_back


def test_it_holds_everything_its_files_hold() -> None:
    assert Site.objects.count() == len(rows("customers-and-sites.csv"))
    assert Panel.objects.count() == len(rows("panels.csv"))
    assert Source.objects.count() == len(rows("sources.csv"))
    assert len(table("jobs.toml")["jobs"]) == 40


def test_it_has_two_months_behind_it_and_a_week_ahead(invented_firm: dt.datetime) -> None:
    closed = CloseOut.objects.order_by("closed_at")
    assert closed[0].closed_at < invented_firm - dt.timedelta(days=40)
    assert Job.objects.earliest("booked_at").booked_at < invented_firm - dt.timedelta(days=60)
    planned = Job.objects.filter(visits__starts_at__gt=invented_firm, visits__state="planned")
    assert planned.distinct().count() >= 5
    assert DirectoryRevision.objects.count() >= 15
    assert Calculation.objects.filter(method="optional").exists()
    assert not Job.objects.filter(booked_at__gt=invented_firm).exists()
    assert not Message.objects.filter(sent_at__gt=invented_firm).exists()


def test_jobs_stand_at_every_step_of_their_life() -> None:
    steps = set(queries.with_step(Job.objects.all()).values_list("step", flat=True))
    assert steps == {step.value for step in NextStep}


def test_permits_inspections_and_answers_are_of_every_sort() -> None:
    assert set(Permit.objects.values_list("state", flat=True)) >= {
        "needed", "applied", "issued", "finaled",
    }  # fmt: skip
    assert set(Inspection.objects.values_list("state", flat=True)) >= {
        "due", "requested", "passed", "failed",
    }  # fmt: skip
    assert set(Reply.objects.values_list("answer", flat=True)) == {"well", "question", "wrong"}
    assert set(Callback.objects.values_list("state", flat=True)) == {"open", "booked", "closed"}
    assert Thanks.objects.filter(read_at=None).exists()


@pytest.mark.parametrize(("url", "tag"), LISTS.items())
def test_every_list_has_something_to_show(url: str, tag: str) -> None:
    (main,) = person("dana").open(url).root.iter("main")
    assert not [one for one in main.iter() if one.get("class") == "empty"]
    assert len(list(main.iter(tag))) > TABLE_HEAD.get(tag, 0)


@pytest.mark.parametrize("name", ["marcus", "lena", "owen"])
def test_each_crew_has_a_day_before_it(name: str) -> None:
    day = person(name).open("/day/")
    assert [one for one in day.root.iter("li") if one.get("class") == "stop"]


def test_every_number_of_the_owner_counts_something() -> None:
    """But for mails to be decided on: in the demo's past every mail could be delivered."""
    numbers = dataclasses.asdict(person("dana").open("/watch/").answer.context["numbers"])
    assert [name for name, number in numbers.items() if number == 0] == ["to_decide"]
