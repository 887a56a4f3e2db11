"""From an empty database to a firm with people, a crew, a customer and a site, over HTTP."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from contractor.models import Crew, Customer, Firm, Person, Role, Site
from contractor.services.letters import send_letters

pytestmark = pytest.mark.django_db
PASSWORD = "copper-before-noon"


def tasks(client: Client) -> dict[str, bool]:
    return {str(task.what): task.done for task in client.get("/start/").context["tasks"]}


def test_a_new_firm_finds_its_way(client: Client, mailoutbox) -> None:
    assert client.get("/", follow=True).redirect_chain[-1][0] == "/begin/"
    begun = client.post(
        "/begin/",
        {
            "firm_name": "Tallow Creek Electric",
            "time_zone": "America/New_York",
            "name": "Marlow Venn",
            "email": "marlow@tallowcreek.example",
            "password": PASSWORD,
        },
        follow=True,
    )
    assert begun.redirect_chain[-1][0] == "/start/"
    assert Person.objects.get().role == Role.OWNER
    assert not tasks(client)["Say who you are"]

    firm = client.get("/firm/").context["form"].initial
    firm |= {"licence_number": "EL-40871", "phone": "614-555-0100", "state": "OH"}
    assert client.post("/firm/", firm).status_code == 302
    assert Firm.objects.get().phone == "+16145550100"
    assert tasks(client)["Say who you are"]

    for name, role in (("Dana Whitlock", "coordinator"), ("Rhys Okafor", "technician")):
        email = f"{name.split()[0].lower()}@tallowcreek.example"
        added = {"name": name, "email": email, "role": role, "invite": "on"}
        assert client.post("/people/add/", added).status_code == 302
    rhys = Person.objects.get(name="Rhys Okafor")
    licence = {"grade": 30, "number": "J-4471", "state": "OH", "expires_on": "2027-06-30"}
    client.post(reverse("paper-add", args=[rhys.pk, "licences"]), licence)
    client.post("/crews/add/", {"name": "Sparrow", "people": [rhys.pk], "lead": rhys.pk})
    assert Crew.objects.get().lead == rhys

    authority = {"name": "Harrow Mills", "permit_days": 180, "permit_days_from": "inspection"}
    client.post("/lists/authorities/add/", authority)
    client.post("/customers/add/", {"name": "Avery Quill", "phone": "740-555-0118"})
    customer = Customer.objects.get()
    address = {"street": "118 Mill Race", "city": "Harrow Mills", "state": "OH", "zip": "43099"}
    added = client.post(reverse("site-add", args=[customer.pk]), address, follow=True)
    assert "postal data do not know ZIP code 43099" in added.content.decode()
    assert Site.objects.get().time_zone == "America/New_York"
    assert set(tasks(client).values()) == {True, False}
    left = [what for what, done in tasks(client).items() if not done]
    assert left == ["Book your first job"]

    assert send_letters(now=timezone.now()) == 2
    link = re.search(r"https?://[^/]+(/\S+)", mailoutbox[1].body)[1]
    theirs = Client()
    form = theirs.get(link, follow=True).redirect_chain[-1][0]
    theirs.post(form, {"new_password": "brass-after-noon"})
    signed_in = theirs.post(
        "/sign-in/",
        {"username": mailoutbox[1].to[0], "password": "brass-after-noon"},
        follow=True,
    )
    assert signed_in.status_code == 200
    assert theirs.get("/firm/").status_code == 403
