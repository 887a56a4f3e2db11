"""One of everything that hangs on one customer, to fill the gaps of any address with."""

from __future__ import annotations

import datetime as dt
import re
import uuid
from dataclasses import dataclass, field
from typing import Any

from django.core import signing
from django.core.files.base import ContentFile

from contractor.models import Crew, CustomerLink, Device, Person, Site, UploadedList
from contractor.services import imports
from contractor.services.links import link_for
from contractor.services.pictures import store_picture
from followups.models import Reply
from followups.services.praise import pass_on
from jobs.models import Hold, KindVisit, SupervisionRule, Visit
from panels.models import Adoption
from panels.services import (
    adoptions,
    calculations,
    entrance,
    load,
    meter,
    readings,
    recalculations,
    schedule,
    sources,
)
from tests.factories import contractor, followups, jobs
from tests.factories import field as work
from tests.factories.panels import a_circuit, a_panel
from tests.panels import metering

NOW = jobs.NOW
GAP = re.compile(r"<(?:(\w+):)?(\w+)>")
NOTHING: dict[str, str] = {
    "uuid": "00000000-0000-4000-8000-000000000000",
    "int": "999999",
    "slug": "nothing",
    "str": "nothing",
    "way": "later",
}


@dataclass
class World:
    """`about` holds the row an address is about by the words before its first gap; `beside` what
    else an address may name; `marks` are words by which the customer would be recognised."""

    crew: Crew
    about: dict[str, Any] = field(default_factory=dict)
    beside: dict[str, Any] = field(default_factory=dict)
    marks: list[str] = field(default_factory=list)

    def fill(self, path: str) -> str:
        """The address with this world's keys in its gaps. KeyError for an unlisted address."""
        first = GAP.search(path)
        if first is None:
            return f"/{path}"
        before = path[: first.start()].removeprefix("api/v1/").strip("/")
        names = [gap[2] for gap in GAP.finditer(path, first.end())]
        keys = iter([self.about[before], *(self._named(before, name) for name in names)])
        return "/" + GAP.sub(lambda _gap: str(next(keys)), path)

    def _named(self, before: str, name: str) -> Any:
        return self.beside.get(f"{before} {name}", self.beside[name])


def nowhere(path: str) -> str:
    """The same address with keys that belong to no row."""
    return "/" + GAP.sub(lambda gap: NOTHING[gap[1] or "str"], path)


def make(street: str, customer: str, people: list[Person]) -> World:
    """A customer with a home, panels, jobs and everything that came of them."""
    crew = jobs.crew(*people)
    site = contractor.SiteFactory(street=street, customer__name=customer)
    world = World(crew=crew, marks=[street, customer])
    visit = _job(world, site)
    _panels(world, site, visit)
    _load(world, site)
    _after_the_work(world, site)
    _office(world, site, people[0])
    return world


def _job(world: World, site: Site) -> Visit:
    """A panel job with its close-out list answered, not closed yet."""
    job = jobs.job(at_site=site, title=f"New main for {site.customer}")
    visit = work.done(jobs.planned("Survey", of=job, by_crew=world.crew, starts_at=jobs.at(8)))
    panel = work.house(job)
    for line in job.close_out.select_related("job"):
        work.answer(line, visit=visit, by=work.worker(visit), now=visit.ends_at, panel=panel)
    world.marks.append(job.title)
    line = work.line(job, "check")
    hold = Hold.objects.filter(visit__job=job, released_at=None).first()
    assert hold
    world.about |= {
        "sites": site.pk, "customers": site.customer_id, "jobs": job.pk, "visits": visit.pk,
        "photos": visit.photos.first().pk, "close-out-lines": line.pk, "close-out/lines": line.pk,
        "holds": hold.pk, "permits": job.permits.get().pk,
        "inspections": job.inspections.first().pk,
    }  # fmt: skip
    world.beside |= {"way": "later", "facts": signing.dumps({}, salt="jobs.struck-reading")}
    return visit


def _panels(world: World, site: Site, visit: Visit) -> None:
    by, panel = work.worker(visit), a_panel(site, name=f"Panel of {site.customer}")
    circuit = a_circuit(panel, 1, name="Sump pump")
    source = sources.add_source(site=site, kind="solar", name=f"Array of {site.customer}", by=by)
    reading = readings.record_reading(
        panel=panel, kind="voltage", value=121.0, between="A-N", by=by, now=NOW
    )
    revision = work.issue_directory(panel=panel, by=by, now=NOW)
    file = ContentFile(b"Space,Breaker A,Description\n2,20,Freezer\n", name="schedule.csv")
    listed = schedule.upload(panel=panel, file=file, name="schedule.csv", by=by, now=NOW)
    world.marks += [panel.name, source.name]
    world.about |= {
        "panels": panel.pk, "circuits": circuit.pk, "sources": source.pk, "readings": reading.pk,
        "directories": revision.pk,
    }  # fmt: skip
    world.beside |= {"circuit_id": circuit.pk, "rev": circuit.rev, "list_id": listed.pk}


def _load(world: World, site: Site) -> None:
    by = site.jobs.first().booked_by
    if not Adoption.objects.filter(authority=site.authority).exists():
        adoptions.record_adoption(
            adoption=None, authority=site.authority, place="", since=dt.date(2019, 7, 1),
            edition="2017", source="Town ordinance 1182", amendments=[], by=by,
        )  # fmt: skip
    load.record_home(
        site=site, by=by, floor_area_ft2=1500, small_appliance_circuits=2, laundry_circuits=1,
        system="1ph-240", service_a=200, is_feeder=False, managed_a=None,
    )  # fmt: skip
    entrance.record_entrance(site=site, by=by, occupancy="one_family", transformer_kva=37.5,
                             transformer_z_percent=2.1)  # fmt: skip
    dryer = load.add_load(site=site, by=by, kind="dryer", nameplate=5.5, unit="kW", count=1)
    kept = [
        calculations.calculate(site=site, method="standard", by=by, now=NOW) for _each in range(2)
    ]
    file = metering.green_button(metering.quarters(31))
    data, _new = meter.take_in(site=site, file=file, name=f"{site.street}.xml", by=by, now=NOW)
    world.about |= {"loads": dryer.pk, "calculations": kept[0].pk, "meter": data.pk}
    adoption = Adoption.objects.get(authority=site.authority)
    run = recalculations.ask(adoption=adoption, by=by, now=NOW, today=NOW.date())
    recalculations.stop(recalculation=run, by=by, now=NOW)
    world.about |= {"adoptions": adoption.pk, "recalculations": run.pk}
    world.beside |= {"load_id": dryer.pk, "other": kept[1].pk}


def _after_the_work(world: World, site: Site) -> None:
    """Another job, closed a while ago, that the customer was asked about and complained of."""
    people = list(world.crew.people.all())
    message = followups.sent_check_in(*people, at_site=site, title=f"Fault at {site.street}")
    job, complaint = message.job, f"The dryer of {site.customer} stops."
    photos = [store_picture(work.picture())]
    reply: Reply = followups.answered(message, "wrong", complaint, photos=photos)
    assert job
    assert message.link
    pass_on(job=job, text=f"Well done, says {site.customer}", now=NOW, by=job.booked_by)
    world.marks.append(complaint)
    world.about |= {
        "callbacks": job.callbacks.get().pk, "replies": reply.pk, "messages": message.pk,
        "replies/photos": reply.photos.get().pk, "answer": message.link.token,
        "stop": "nothing",
    }  # fmt: skip
    world.beside["name"] = "told"


def _office(world: World, site: Site, person: Person) -> None:
    """What is not the customer's, and the office's alone."""
    licence = person.licences.first()
    rule, _made = SupervisionRule.objects.get_or_create(
        state="OH", defaults={"source": "Ohio, invented", "supervisor_grade": 3}
    )
    visit = KindVisit.objects.filter(kind__name=jobs.PANEL_JOB).first()
    device, _token = Device.objects.create(user=person, name="phone")
    rows = ContentFile(b"Customer\nNew Neighbour\n", name="list.csv")
    listed: UploadedList = imports.upload(file=rows, name="list.csv", by=person, now=NOW)
    twin = contractor.CustomerFactory(name=f"Twin of {site.customer}")
    door = link_for(site=site, purpose=CustomerLink.Purpose.DOOR, subject=uuid.uuid4(), now=NOW)
    assert visit
    world.about |= {
        "people": person.pk, "crews": world.crew.pk, "customers/import": listed.pk,
        "account/devices": device.token_key, "home": door.token, "lists": "authorities",
        "kinds": visit.kind_id, "kinds/parts": "visit", "history": "site",
        "planning-rules/supervision": rule.pk, "password": "nobody",
    }  # fmt: skip
    world.beside |= {
        "kind": "licences", "key": licence.pk, "link": door.pk, "drop": twin.pk, "sort": "visit",
        "token": "nothing", "pk": site.pk, "lists pk": site.authority_id,
        "kinds/parts pk": visit.pk,
    }  # fmt: skip
