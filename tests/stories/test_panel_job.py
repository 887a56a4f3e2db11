"""One panel job, from an empty firm and the first call to the one-week check-in and its answer.

Everything over HTTP as people would press it, with a real Celery worker, broker, PostgreSQL and
SMTP server. The customer lives an hour west of the office, so no zone may stand in for another.
"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass

import time_machine

from tests.mailbox import Mailbox
from tests.stories.steps import customers, field, firm, mails, office, panel, papers
from tests.stories.visitor import Page, Visitor
from tests.workers import Workers

OFFICE = zoneinfo.ZoneInfo("America/New_York")
SITE = zoneinfo.ZoneInfo("America/Chicago")
TITLE = "200 A main and garage subpanel"
PERMIT = "E-26-0417"


def at(day: int, hour: int, minute: int = 0, zone: zoneinfo.ZoneInfo = OFFICE) -> dt.datetime:
    """An hour of December 2026; day 0 is Monday, the last of November."""
    return dt.datetime(2026, 11, 30, hour, minute, tzinfo=zone) + dt.timedelta(days=day)


def there(day: int, hour: int, minute: int = 0) -> dt.datetime:
    return at(day, hour, minute, SITE)


@dataclass
class Story:
    """The people of the story, the clock they live by, and the mail that reaches them."""

    clock: time_machine.Traveller
    smtp: Mailbox
    workers: Workers
    owner: Visitor
    coordinator: Visitor
    technician: Visitor

    def sweep(self, moment: dt.datetime) -> None:
        """What a worker does whose clock stands at that moment."""
        self.workers.stop()
        self.workers(at=moment).run("followups.tasks.sweep")

    def sign_in_again(self) -> None:
        """After a week everyone has been signed out."""
        for person, email in (
            (self.owner, firm.OWNER),
            (self.coordinator, firm.COORDINATOR),
            (self.technician, firm.TECHNICIAN),
        ):
            person.sign_in(email, firm.PASSWORD)


def test_one_panel_job_from_the_first_call_to_the_check_in(
    celery_worker: Workers, smtp: Mailbox
) -> None:
    with time_machine.travel(at(0, 8)) as clock:
        story = the_firm_is_set_up(clock, smtp, celery_worker)
        the_customers_come_in_from_a_list(story)
        job = the_job_is_booked(story)
        praise = a_service_call_is_done_in_between(story, job)
        the_rough_in_waits_fails_and_passes(story, job)
        the_cut_over_keeps_its_promise(story, job)
        visit = the_panels_are_recorded(story, job)
        the_load_is_calculated(story, visit)
        the_work_is_proved(story, visit)
        code = the_job_is_closed(story, job)
        home = the_customer_opens_the_panel_page(story, code)
        check_in = the_check_in_comes_a_week_later(story)
        something_is_wrong(story, job, check_in)
        praise_reaches_the_crew(story, praise)
        a_circuit_changed_later_is_the_next_revision(story, home)


def the_firm_is_set_up(clock: time_machine.Traveller, smtp: Mailbox, workers: Workers) -> Story:
    owner = firm.begin()
    firm.describe_the_firm(owner)
    firm.keep_lists(owner)
    firm.hire_everyone(owner)
    firm.adopt_an_edition(owner)
    workers(at=at(0, 9)).run("contractor.tasks.send_letters")
    coordinator = mails.accept_invitation(smtp, firm.COORDINATOR)
    technician = mails.accept_invitation(smtp, firm.TECHNICIAN)
    coordinator.open("/firm/", expect=403)
    technician.open("/customers/", expect=403)
    return Story(clock, smtp, workers, owner, coordinator, technician)


def the_customers_come_in_from_a_list(story: Story) -> None:
    coordinator = story.coordinator
    bad = customers.read(coordinator, [*customers.ROWS, customers.BAD])
    bad.says("Nothing is taken in yet.", "Line 4 Phone", "Line 4 Site ZIP").lacks("Take in all")
    coordinator.open("/customers/").says("No customers yet")

    good = customers.read(coordinator, [*customers.ROWS, customers.MENDED])
    good.says("3 Rows new").press("Take in all 3 rows").says("3 Customers added", "3 Sites added")
    again = customers.read(coordinator, [*customers.ROWS, customers.MENDED])
    again.says("Taking it in would change nothing.", "3 Rows unchanged")


def the_job_is_booked(story: Story) -> Page:
    scope = "Main in the basement, subpanel in the garage."
    job = office.book(story.coordinator, customers.HOME, office.PANEL_JOB, TITLE, scope)
    for name in ("Survey", "Rough-in", "Cut-over", "Trim-out and commissioning", "Walk-through"):
        assert job.under(name)
    job.says("Rough-in later after Rough-in", "Service later", "Final later", scope)
    what_is_refused_is_said_and_not_written(job)
    office.plan(job, "Survey", "Creek crew", there(1, 9)).says("Survey is planned.")
    office.apply_for_permit(job, at(0, 8).date())
    return job


def what_is_refused_is_said_and_not_written(job: Page) -> None:
    held = ("Rough-in waits for: permit.", "Rough-in waits for: material (subpanel and feeder).")
    office.refused(job, "Rough-in", "Creek crew", there(3, 8), *held)
    lapsed = "Nobody on this visit holds a journeyman licence good on Mon Dec. 7."
    page = office.refused(
        job, "Trim-out and commissioning", "Mill crew", there(7, 8), lapsed, "It ran out: Ivo Larch"
    )
    page.says("Refused", "This cannot be insisted on.")
    office.refused(
        job, "Trim-out and commissioning", "Creek crew", there(9, 8),
        "Tamsin Reed would work unsupervised", "Add a licensed person.",
        answers={"Other people than usual": ["Tamsin Reed"]},
    )  # fmt: skip
    office.refused(
        job, "Survey", "Creek crew", there(5, 8), "Sat Dec. 5 is not a working day."
    )  # fmt: skip


def a_service_call_is_done_in_between(story: Story, job: Page) -> str:
    """At another site, on the same day by the same crew; who they are, to be praised later."""
    call = office.book(
        story.coordinator, customers.SHOP, office.SERVICE_CALL, "Lights in the shop flicker"
    )
    # Eleven in town is ten at the site in the west, in the middle of the survey there.
    twice = "Rhys Okafor is on 1001 Survey at 118 Wheelwright Lane"
    page = office.refused(call, "Service call", "Creek crew", at(1, 11), twice)
    page.says("Refused", "This cannot be insisted on.")
    office.plan(call, "Service call", "Creek crew", at(1, 14)).says("Service call is planned.")

    story.clock.move_to(there(1, 8, 55))
    day = story.technician.open("/day/").says("2 visits")
    assert day.text.index(customers.HOME) < day.text.index(customers.SHOP)
    first = day.at(customers.HOME).says("Gate code at the left post", "One old dog, friendly")
    assert first.link("Call Avery Quill") == "tel:+16145550143"
    assert first.link("Directions") == "geo:40.051,-82.951"
    visit = field.go_there(story.technician, customers.HOME)
    story.clock.move_to(there(1, 10, 20))
    field.leave(visit)

    story.clock.move_to(at(1, 14))
    visit = field.go_there(story.technician, customers.SHOP)
    found = field.line(visit, "What was found and what was done")
    found.press("Keep it", {"What is to be kept": "Loose neutral at the panel, made up again."})
    field.sign(visit, "Rowan Sedge")
    story.clock.move_to(at(1, 15, 20))
    field.close(visit).says("Job 1002 is closed.", "Loose neutral at the panel, made up again.")
    return customers.NEIGHBOUR


def the_rough_in_waits_fails_and_passes(story: Story, job: Page) -> None:
    story.clock.move_to(at(2, 9))
    office.permit_issued(job, PERMIT, at(2, 9).date())
    office.visit(job, "Rough-in").says(f"permit {PERMIT} issued")
    office.release(job, "Rough-in", "material (subpanel and feeder)", "Counted in the yard.")
    early = "Thu Dec. 3, 6:30 a.m. – 12:30 p.m. is outside working hours"
    page = office.refused(job, "Rough-in", "Creek crew", there(3, 6, 30), early)
    page.press("Put it on the plan", {"Insist, because": "The customer leaves at seven."})
    office.visit(job, "Rough-in").says("Dana Whitlock insisted on", "The customer leaves at seven.")

    story.clock.move_to(there(3, 6, 25))
    visit = field.go_there(story.technician, customers.HOME)
    story.clock.move_to(there(3, 12, 20))
    field.leave(visit)
    office.ask_for_inspection(job, "Rough-in", there(4, 8))
    story.clock.move_to(there(4, 13))
    findings = "Feeder not secured at the box."
    office.inspected(job, "Rough-in", there(4, 13).date(), passed=False, findings=findings)
    failed = story.owner.open("/watch/").follow("1 inspection")
    assert "failed" in failed.url
    failed.says(findings, customers.HOME)
    office.visit(job, "Cut-over").says("Release Rough-in inspection")
    office.inspected(job, "Rough-in", there(4, 15).date())
    office.visit(job, "Cut-over").says("Rough-in passed")


def the_cut_over_keeps_its_promise(story: Story, job: Page) -> None:
    for hold in ("material (main panel and breakers)", "utility (cut and reconnect)"):
        office.release(job, "Cut-over", hold, "Confirmed by phone.")
    promise = office.visit(job, "Cut-over").follow("Arrival promised")
    promise.press("Save", {"day": "2026-12-07", "From": "08:00", "Until": "09:00"})
    early = "The customer was promised arrival Mon Dec. 7, 8 a.m. – 9 a.m."
    office.refused(job, "Cut-over", "Creek crew", there(7, 7), early)
    office.plan(job, "Cut-over", "Creek crew", there(7, 8, 30))

    story.clock.move_to(there(7, 8, 20))
    visit = field.go_there(story.technician, customers.HOME)
    story.clock.move_to(there(7, 16, 20))
    field.leave(visit)
    story.clock.move_to(there(8, 9))
    office.inspected(job, "Service", there(8, 9).date())
    office.plan(job, "Trim-out and commissioning", "Creek crew", there(9, 8))


def the_panels_are_recorded(story: Story, job: Page) -> Page:
    """The main by thumb and from a spreadsheet, the sub by thumb; what cannot be is refused."""
    story.clock.move_to(there(9, 7, 55))
    visit = field.go_there(story.technician, customers.HOME)
    panel.record_main(visit)
    panel.record_sub(visit)
    panel.try_what_cannot_be(visit)
    panel.take_in_the_rest(visit)
    panel.add_the_battery(visit)
    return visit


def the_load_is_calculated(story: Story, visit: Page) -> None:
    """Published example D1(a) of NFPA 70-2017, Informative Annex D, typed into the pages."""
    page = visit.visitor.open(visit.url).follow(customers.HOME).follow("Load")
    load = panel.describe_home(page)
    standard = panel.keep_calculation(load, "Standard method", PERMIT)
    standard.says("Calculated load 18,600 VA", "Current per leg 77.5 A", "NFPA 70-2017")
    standard.says(
        "Table 220.55", "City of Harrow Mills", "a licensed person must verify the result"
    )
    # 10 kVA at 100 %, the rest of 26.5 kVA at 40 %: 220.82(B), worked by hand.
    optional = panel.keep_calculation(load, "Optional method", PERMIT)
    optional.says("Calculated load 16,600 VA", "220.82(B)")
    (sheet,) = papers.pdf_pages(visit.visitor.get(optional.link("Worksheet")))
    for words in ("16,600 VA", "220.82(B)", f"permit {PERMIT}", "CAUTION", "EL-40871"):
        assert words in sheet


def the_work_is_proved(story: Story, visit: Page) -> None:
    field.measure(
        visit, "Voltages at the main panel", "Main panel",
        **{"A-N, V": 121.4, "B-N, V": 121.1, "A-B, V": 242.6},
    ).at("Voltages at the main panel").says("242.6 V", "within")  # fmt: skip
    field.measure(
        visit, "Voltages at the subpanel", "Garage panel",
        **{"A-N, V": 121.0, "B-N, V": 120.8, "A-B, V": 241.8},
    )  # fmt: skip
    field.measure(
        visit, "Insulation resistance of the feeder", "Main panel",
        **{"Between": "A-G", "Insulation resistance, MΩ": 550, "Circuit": "11,13"},
    ).says("550 MΩ")  # fmt: skip
    field.measure(
        visit, "Torque of feeder and main terminations", "Main panel",
        **{"Terminal": "Main lug A", "Torque, lb-in": 250,
           "Value marked on the equipment, lb-in": 250},
    )  # fmt: skip
    field.tick(visit, "Neutrals and grounds kept apart in the subpanel")
    field.tick(visit, "Every circuit traced and named")
    field.send_photo(visit, "Main panel with the cover off")
    line = field.line(visit, "Main panel with the cover off")
    (small,) = [one.get("src", "") for one in line.root.iter("img")]
    kept = papers.picture(visit.visitor.get(small.replace("small/", "")))
    assert not kept.getexif()  # where it was taken is nobody's business
    assert kept.size == (480, 640)  # and it stands upright
    story.clock.move_to(there(9, 11, 50))
    field.leave(visit)


def the_job_is_closed(story: Story, job: Page) -> str:
    """Refused while something is missing; the address of the code on the door."""
    story.clock.move_to(there(10, 14))
    office.inspected(job, "Final", there(10, 14).date())
    office.plan(job, "Walk-through", "Creek crew", there(11, 15))
    story.clock.move_to(there(11, 14, 55))
    visit = field.go_there(story.technician, customers.HOME)
    missing = field.closing(visit).says(
        "2 things are missing",
        "“Subpanel with the cover off” has no photo yet.",
        "“Customer’s signature”: nobody has signed, and no reason is written down.",
    )
    missing.lacks("Close the job")
    missing.force({}, expect=409).says("“Subpanel with the cover off” has no photo yet.")
    assert "crew on site" in job.visitor.open(f"{job.url}").follow(customers.HOME).text

    field.send_photo(visit, "Subpanel with the cover off")
    field.sign(visit, "Avery Quill")
    code = panel.issue_main_directory(visit)
    story.clock.move_to(there(11, 15, 50))
    closed = field.close(visit, {"Issue these directories now": True})
    closed.says("Job 1001 is closed.", "Date Dec. 11, 2026, 3:50 p.m. By Rhys Okafor")
    closed.says("242.6 V", "550 MΩ", "Avery Quill", "Walk-through Rhys Okafor, Tamsin Reed")
    return code


def the_customer_opens_the_panel_page(story: Story, code: str) -> Page:
    """From the walk-through mail, and from the code on the door."""
    story.sweep(there(11, 16))
    (mail,) = mails.about(story.smtp, customers.CUSTOMER, "is done")
    assert "911" in papers.plain(mail)
    customer = Visitor()
    home = customer.open(papers.mail_links(mail)["Open my panel page"])
    home.says("Main panel", "Garage panel", "Fed from Main panel", "911", "Garage battery")
    found = home.press("Find", {"q": "furnace"}).says("1 breaker found.")
    found.at("Furnace").says("18")
    (main, sub) = papers.pdf_pages(customer.get(home.link("Print")))
    assert "Main panel" in main
    assert "Vehicle supply" in sub
    customer.open(code).says("Main panel", "Garage panel")
    customer.open("/jobs/").says("Sign in")
    return home


def the_check_in_comes_a_week_later(story: Story) -> str:
    """Not at ten by the office's clock, but at ten where the customer lives."""
    story.clock.move_to(at(18, 10, 5))
    story.sweep(at(18, 10, 5))
    assert mails.about(story.smtp, customers.CUSTOMER, "Is all well?") == []
    story.clock.move_to(there(18, 10, 5))
    story.sweep(there(18, 10, 5))
    story.sweep(there(18, 10, 6))  # and once, however often it is swept
    (mail,) = mails.about(story.smtp, customers.CUSTOMER, "Is all well?")
    assert mail["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    return papers.mail_links(mail)["Something is wrong"]


def something_is_wrong(story: Story, job: Page, check_in: str) -> None:
    story.clock.move_to(there(18, 11))
    customer = Visitor()
    answer = {"Anything to add?": "The dryer stops after a minute.",
              "Pictures": [papers.photo("dryer.jpg")]}  # fmt: skip
    page = customer.open(check_in)
    page.press("Send my answer", answer).says("Thank you, we have it", "911")
    story.sign_in_again()
    callbacks = story.owner.open("/watch/").follow("1 callback")
    callbacks.says("The dryer stops after a minute.", TITLE, "Creek crew", "open")
    one = callbacks.follow("The dryer stops after a minute.")
    one.says(customers.HOME, "Avery Quill", "Creek crew")
    (small,) = {
        img.get("src", "") for img in one.root.iter("img") if "replies" in img.get("src", "")
    }
    assert not papers.picture(story.owner.get(small)).getexif()
    booked = one.follow("Book").press("Book it")
    booked.says("Job 1003 booked", "Callback")


def praise_reaches_the_crew(story: Story, who: str) -> None:
    (mail,) = mails.about(story.smtp, who, "Is all well?")
    page = Visitor().open(papers.mail_links(mail)["All well"])
    page.press("Send my answer", {"Anything to add?": "Quick and kind. Thank you."})
    story.technician.open("/day/").follow("A customer has praised your work.").says(
        "Quick and kind. Thank you.", "Rowan Sedge", "1002 Lights in the shop flicker", "new"
    )


def a_circuit_changed_later_is_the_next_revision(story: Story, home: Page) -> None:
    """The page of the customer and the old paper stay as they were until it is issued."""
    site = story.coordinator.open("/sites/").follow(customers.HOME)
    main = site.follow("Main panel")
    before = main.follow("Directory")
    paper = before.link("Letter page")
    main.follow("Front bedroom").press("Save", {"What it serves": "Study"}).says("Study")
    home.visitor.open(home.url).says("Front bedroom").lacks("Study")
    changed = story.coordinator.open(before.url).says("was “Front bedroom”, now “Study”")
    issued = changed.press("Issue revision 2").says("Revision 2 is issued.")
    (old,) = papers.pdf_pages(story.coordinator.get(paper))
    (new,) = papers.pdf_pages(story.coordinator.get(issued.link("Letter page")))
    assert "Front bedroom" in old
    assert "Study" not in old
    assert "Study" in new
    home.visitor.open(home.url).says("Study", "Revision 2").lacks("Front bedroom")
