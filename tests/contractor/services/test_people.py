"""Do people come, change and go under the rules of who may do that to whom?"""

from __future__ import annotations

import datetime as dt
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from django.test import Client

from contractor.errors import Invalid, Refused
from contractor.models import (
    Absence,
    Certificate,
    CrewMember,
    Device,
    Licence,
    PasswordLetter,
    Person,
    Role,
)
from contractor.services import people
from contractor.services.crews import save_crew
from contractor.services.firm import change_firm
from tests.factories.contractor import (
    AbsenceFactory,
    CertificateKindFactory,
    CoordinatorFactory,
    CrewFactory,
    FirmFactory,
    LicenceFactory,
    OwnerFactory,
    TechnicianFactory,
)

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
RHYS = {"name": "Rhys Okafor", "email": "Rhys@tallowcreek.example", "role": Role.TECHNICIAN}


def change(person: Person, by: Person, **values: object) -> Person:
    return people.change_person(person=person, values=values, by=by, now=NOW)


def refusal(act, *args: object, **values: object) -> str:  # type: ignore[no-untyped-def]
    with pytest.raises(Refused) as refused:
        act(*args, **values)
    return refused.value.code


@pytest.mark.django_db
def test_a_new_person_is_invited_and_has_no_password_yet() -> None:
    person = people.add_person(values=RHYS, by=CoordinatorFactory(), now=NOW)
    assert not person.has_usable_password()
    letter = PasswordLetter.objects.get()
    assert (letter.email, letter.why) == ("rhys@tallowcreek.example", "invited")


@pytest.mark.django_db
def test_one_address_signs_in_one_person_however_it_is_written() -> None:
    by = CoordinatorFactory()
    people.add_person(values=RHYS, by=by, now=NOW)
    again = {**RHYS, "email": "RHYS@TALLOWCREEK.example"}
    with pytest.raises(Refused) as refused:
        people.add_person(values=again, by=by, now=NOW)
    assert "email" in refused.value.fields


@pytest.mark.django_db
def test_only_an_owner_makes_changes_or_papers_an_owner() -> None:
    owner, office, other = OwnerFactory(), CoordinatorFactory(), CoordinatorFactory()
    assert refusal(change, owner, office, name="Someone") == "owners_only"
    assert refusal(change, other, office, role=Role.OWNER) == "owners_only"
    made = {**RHYS, "role": Role.OWNER}
    assert refusal(people.add_person, values=made, by=office, now=NOW) == "owners_only"
    licence = Licence(person=owner, grade=40)
    assert refusal(people.save_licence, licence=licence, by=office) == "owners_only"
    assert change(other, owner, role=Role.OWNER).is_owner


@pytest.mark.django_db
def test_the_last_owner_stays_an_owner_and_here() -> None:
    owner = OwnerFactory()
    assert refusal(change, owner, owner, role=Role.COORDINATOR) == "last_owner"
    assert refusal(change, owner, owner, is_active=False) == "not_oneself"
    second = OwnerFactory()
    change(owner, second, is_active=False)
    assert refusal(change, second, second, role=Role.TECHNICIAN) == "last_owner"


@pytest.mark.django_db(transaction=True)
def test_two_owners_cannot_each_remove_the_other() -> None:
    one, other = OwnerFactory(), OwnerFactory()

    def demote(pair: tuple[Person, Person]) -> str:
        try:
            change(pair[0], pair[1], role=Role.COORDINATOR)
        except Refused as refused:
            return refused.code
        finally:
            connection.close()
        return "done"

    with ThreadPoolExecutor(2) as pool:
        outcomes = sorted(pool.map(demote, [(one, other), (other, one)]))
    assert outcomes == ["done", "last_owner"]
    assert Person.objects.filter(role=Role.OWNER, is_active=True).count() == 1


@pytest.mark.django_db
def test_who_leaves_is_out_at_once_in_every_browser_and_on_every_device(owner: Person) -> None:
    person = TechnicianFactory()
    Device.objects.create(user=person, name="phone")
    browser = Client()
    browser.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    assert browser.get("/account/").status_code == 200
    change(person, owner, is_active=False)
    assert browser.get("/account/").status_code == 302
    assert not Device.objects.exists()
    change(person, owner, is_active=True)
    assert browser.get("/account/").status_code == 302


@pytest.mark.django_db
def test_two_stretches_away_cannot_overlap() -> None:
    person, by = TechnicianFactory(), CoordinatorFactory()
    AbsenceFactory(person=person, first_day=dt.date(2026, 12, 21), last_day=dt.date(2026, 12, 31))
    again = Absence(
        person=person, first_day=dt.date(2026, 12, 31), last_day=dt.date(2027, 1, 2), reason="sick"
    )
    assert refusal(people.save_absence, absence=again, by=by) == "invalid"
    again.first_day = dt.date(2027, 1, 1)
    people.save_absence(absence=again, by=by)
    backwards = Absence(
        person=person, first_day=dt.date(2027, 2, 2), last_day=dt.date(2027, 2, 1), reason="sick"
    )
    assert refusal(people.save_absence, absence=backwards, by=by) == "invalid"


@pytest.mark.django_db
def test_papers_are_saved_and_removed() -> None:
    person, by = TechnicianFactory(), CoordinatorFactory()
    kept = people.save_certificate(
        certificate=Certificate(person=person, kind=CertificateKindFactory()), by=by
    )
    licence = LicenceFactory(person=person)
    twice = Licence(person=person, grade=licence.grade, state=licence.state)
    assert refusal(people.save_licence, licence=twice, by=by) == "invalid"
    people.remove_paper(paper=kept, by=by)
    assert not Certificate.objects.exists()


@pytest.mark.django_db
def test_a_crew_is_led_by_one_of_its_own() -> None:
    one, two, three = (TechnicianFactory() for _each in range(3))
    by, crew = CoordinatorFactory(), CrewFactory(people=[one, two])
    kept = set(CrewMember.objects.filter(person=two).values_list("pk", flat=True))
    save_crew(crew=crew, values={"lead": two}, people=[two, three], by=by)
    assert set(crew.people.all()) == {two, three}
    assert kept <= set(CrewMember.objects.values_list("pk", flat=True)), (
        "a place kept is not remade"
    )
    stranger = refusal(save_crew, crew=crew, values={"lead": one}, people=[two, three], by=by)
    assert stranger == "lead_outside_crew"


@pytest.mark.django_db
def test_the_office_writes_down_an_owners_days_away_and_takes_them_off_again() -> None:
    owner, by = OwnerFactory(), CoordinatorFactory()
    days = Absence(person=owner, first_day=NOW.date(), last_day=NOW.date(), reason="sick")
    people.save_absence(absence=days, by=by)
    people.remove_paper(paper=days, by=by)
    assert not Absence.objects.exists()
    licence = LicenceFactory(person=owner)
    assert refusal(people.remove_paper, paper=licence, by=by) == "owners_only"


@pytest.mark.django_db
def test_days_away_twice_and_a_working_day_that_ends_before_it_starts_are_told_in_words() -> None:
    FirmFactory()
    by = OwnerFactory()
    told = []
    there = AbsenceFactory()
    again = Absence(
        person=there.person, first_day=there.first_day, last_day=there.last_day, reason="other"
    )
    for act in (
        lambda: people.save_absence(absence=again, by=by),
        lambda: change_firm(values={"work_starts": dt.time(17), "work_ends": dt.time(7)}, by=by),
        lambda: change_firm(
            values={"messages_from": dt.time(20), "messages_until": dt.time(9)}, by=by
        ),
        lambda: change_firm(values={"link_days": 7, "check_in_days": 7}, by=by),
        lambda: change_firm(values={"door_link_days": 0}, by=by),
    ):
        with pytest.raises(Invalid) as refused:
            act()
        told.append(refused.value)
    assert [set(each.fields) for each in told] == [
        {"first_day"}, {"work_ends"}, {"messages_until"}, {"link_days"}, {"door_link_days"},
    ]  # fmt: skip
    assert not any("Constraint" in str([each.sentence, each.fields]) for each in told)
