"""Does the way to a password reach its person, once owed, whatever fails on the way?"""

from __future__ import annotations

import datetime as dt
import re

import pytest
from django.core import mail
from django.test import Client

from contractor.models import PasswordLetter
from contractor.services.letters import owe_letter, send_letters
from tests.factories.contractor import FirmFactory, TechnicianFactory

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
Why = PasswordLetter.Why


@pytest.fixture(autouse=True)
def _firm() -> None:
    FirmFactory()


def test_the_mail_names_the_firm_and_holds_one_link(mailoutbox) -> None:
    person = TechnicianFactory(email="rhys@tallowcreek.example", name="Rhys Okafor")
    owe_letter(email="RHYS@tallowcreek.example ", why=Why.INVITED, now=NOW)
    assert send_letters(now=NOW) == 1
    sent = mailoutbox[0]
    assert sent.to == [person.email]
    assert sent.subject == "Your way in at Tallow Creek Electric"
    assert "Hello Rhys Okafor," in sent.body
    assert "&" not in sent.body
    assert len(re.findall(r"https?://\S+", sent.body)) == 1
    assert send_letters(now=NOW + dt.timedelta(hours=1)) == 0


def test_a_strangers_address_gets_nothing_and_is_not_tried_again(mailoutbox) -> None:
    TechnicianFactory(email="left@tallowcreek.example", is_active=False)
    for email in ("nobody@mail.example", "left@tallowcreek.example"):
        owe_letter(email=email, why=Why.FORGOTTEN, now=NOW)
    assert send_letters(now=NOW) == 0
    assert mailoutbox == []
    assert not PasswordLetter.objects.filter(done_at=None).exists()


def test_a_letter_that_fails_waits_and_stops_no_other(mailoutbox, monkeypatch) -> None:
    people = [TechnicianFactory() for _each in range(2)]
    for person in people:
        owe_letter(email=person.email, why=Why.FORGOTTEN, now=NOW)
    real = mail.EmailMessage.send

    def failing(message: mail.EmailMessage, **kwargs: object) -> int:
        if message.to == [people[0].email]:
            raise ConnectionRefusedError
        return real(message, **kwargs)

    monkeypatch.setattr("contractor.services.letters.EmailMessage.send", failing)
    assert send_letters(now=NOW) == 1
    assert send_letters(now=NOW + dt.timedelta(minutes=1)) == 0, "it rests a while"
    monkeypatch.undo()
    assert send_letters(now=NOW + dt.timedelta(minutes=3)) == 1
    assert [message.to for message in mailoutbox] == [[people[1].email], [people[0].email]]


def test_after_five_tries_it_is_left_to_the_person_to_ask_again(monkeypatch) -> None:
    owe_letter(email=TechnicianFactory().email, why=Why.FORGOTTEN, now=NOW)

    def failing(message: mail.EmailMessage, **kwargs: object) -> int:
        raise TimeoutError

    monkeypatch.setattr("contractor.services.letters.EmailMessage.send", failing)
    for number in range(8):
        send_letters(now=NOW + dt.timedelta(minutes=5 * number))
    assert PasswordLetter.objects.get().tries == 5


def test_a_firm_name_cannot_add_a_header(mailoutbox) -> None:
    FirmFactory._meta.model.objects.update(name="Tallow\nBcc: evil@mail.example")
    owe_letter(email=TechnicianFactory().email, why=Why.INVITED, now=NOW)
    assert send_letters(now=NOW) == 1
    assert mailoutbox[0].recipients() == mailoutbox[0].to


def test_the_link_sets_a_password_once(mailoutbox, client: Client) -> None:
    person = TechnicianFactory()
    owe_letter(email=person.email, why=Why.FORGOTTEN, now=NOW)
    send_letters(now=NOW)
    link = re.search(r"https?://[^/]+(/\S+)", mailoutbox[0].body)[1]
    form = client.get(link, follow=True)
    hidden_address = form.redirect_chain[-1][0]
    assert hidden_address != link, "the token leaves the address bar"
    weak = client.post(hidden_address, {"new_password": "short"})
    assert weak.status_code == 422
    done = client.post(hidden_address, {"new_password": "brass-after-noon"})
    assert done["Location"] == "/sign-in/"
    person.refresh_from_db()
    assert person.check_password("brass-after-noon")
    again = Client().get(link)
    assert again.status_code == 422
    assert "no longer good" in again.content.decode()
