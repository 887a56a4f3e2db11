"""The coordinator books a job, follows its permit, and puts crews on its visits."""

from __future__ import annotations

import datetime as dt
from typing import Any

from tests.stories.visitor import Page, Visitor

PANEL_JOB = "Panel replacement with subpanel"
SERVICE_CALL = "Service call"


def book(office: Visitor, street: str, kind: str, title: str, scope: str = "") -> Page:
    """Find the site, say what is to be done; the page of the job that comes of it."""
    page = office.open("/jobs/").follow("Book a job")
    page = page.press("Find", {"Customer, street or phone number": street}).follow(street)
    answers = {"What is to be done": title, "Kind of job": kind, "Details for the crew": scope}
    return page.press("Book it", answers).says("is booked.", title)


def visit(job: Page, name: str) -> Page:
    """The job's page as it is now, narrowed to one visit."""
    return job.visitor.open(job.url).under(name)


def plan(job: Page, name: str, crew: str, starts: dt.datetime, **more: Any) -> Page:
    """Ask for crew and hour on the planning page. `expect` 422 is a refusal."""
    page = visit(job, name).follow(("Plan", "Move"))
    answers = {"Crew": crew, "Day": str(starts.date()), "Starts": f"{starts:%H:%M}", "Ends": ""}
    answers |= more.pop("answers", {})
    return page.press(("Put it on the plan", "Move it"), answers, **more)


def refused(job: Page, name: str, crew: str, starts: dt.datetime, *sentences: str, **more: Any):
    """Every sentence is said, and the visit is where it was before."""
    before = visit(job, name).text
    page = plan(job, name, crew, starts, expect=422, **more)
    page.says(*sentences)
    assert visit(job, name).text == before
    return page


def release(job: Page, name: str, hold: str, how: str) -> None:
    page = visit(job, name).follow(f"Release {hold}")
    page.press("Release", {"How you know": how}).says("Released:")


def apply_for_permit(job: Page, on: dt.date) -> None:
    page = job.visitor.open(job.url).follow("Applied for")
    page.press("Save", {"Applied on": str(on)}).says("applied")


def permit_issued(job: Page, number: str, on: dt.date) -> None:
    page = job.visitor.open(job.url).follow("Issued")
    page.press("Save", {"Permit number": number, "Issued on": str(on)}).says(number)


def ask_for_inspection(job: Page, name: str, opens: dt.datetime) -> None:
    page = job.visitor.open(job.url).follow(f"Ask for it {name}")
    closes = opens + dt.timedelta(hours=4)
    page.press(
        "Save",
        {"day": str(opens.date()), "From": f"{opens:%H:%M}", "Until": f"{closes:%H:%M}",
         "Inspector": "Inspector Brandt"},
    ).says("The inspection is asked for.")  # fmt: skip


def inspected(
    job: Page, name: str, on: dt.date, *, passed: bool = True, findings: str = ""
) -> Page:
    page = job.visitor.open(job.url).follow(f"Result {name}")
    result = "passed" if passed else "failed"
    answers = {"Result": result, "Inspected on": str(on), "What the inspector found": findings}
    return page.press("Save", answers)
