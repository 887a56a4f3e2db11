"""Directories are issued by number, never altered, and only when the record has moved on."""

from __future__ import annotations

import datetime as dt
import threading

import pytest
from django.db import DatabaseError, connection, transaction
from django.utils import timezone

from contractor.errors import Refused
from contractor.models import CustomerLink
from panels.models import DirectoryRevision
from panels.services import circuits, directory, feeders, panels, papers, sources
from tests.factories.contractor import CoordinatorFactory, FirmFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder
from tests.panels import reading

NOW = dt.datetime(2026, 11, 25, 14, 0, tzinfo=dt.UTC)


def issue(panel, now=NOW):
    return directory.issue_directory(panel=panel, by=a_recorder(), now=now)


@pytest.mark.django_db
def test_the_first_issue_is_number_one_and_says_what_is_recorded():
    main, sub = a_full_house()
    revision = issue(sub)
    assert (revision.number, revision.issued_by, revision.issued_at) == (1, a_recorder(), NOW)
    assert revision.content["supply"] == {
        "way": "feeder",
        "panel": "Main panel",
        "panel_id": str(main.pk),
        "spaces": "5, 7",
        "rating_a": 100,
    }
    feeder = next(one for one in issue(main).content["circuits"] if one["space"] == 5)
    assert (feeder["feeds"], feeder["feeds_id"]) == ("Garage panel", str(sub.pk))


@pytest.mark.django_db
def test_issuing_again_without_a_change_gives_the_same_revision():
    panel = a_panel()
    first = issue(panel)
    again = issue(panel, now=NOW + dt.timedelta(days=1))
    assert again == first
    assert panel.revisions.count() == 1


@pytest.mark.django_db
def test_a_changed_name_is_told_and_becomes_the_next_revision():
    panel = a_panel()
    circuit = a_circuit(panel, 12, name="Bedroom")
    issue(panel)
    circuits.change_circuit(circuit=circuit, name="Bedroom 2 receptacles", by=a_recorder())
    told = [str(change) for change in directory.differences(panel)]
    assert told == ["space 12: was “Bedroom”, now “Bedroom 2 receptacles”"]
    assert issue(panel).number == 2
    assert directory.differences(panel) == []
    changes = [[str(one) for one in issued.changes] for issued in directory.history(panel)]
    assert changes == [told, []]


@pytest.mark.django_db
def test_what_the_directory_does_not_show_makes_no_revision():
    panel = a_panel()
    circuit = a_circuit(panel, 1)
    issue(panel)
    circuits.change_circuit(circuit=circuit, wire_size="12", notes="stiff", by=a_recorder())
    assert directory.differences(panel) == []
    assert issue(panel).number == 1


@pytest.mark.django_db
def test_a_new_source_on_site_changes_every_panel_of_it():
    main, sub = a_full_house()
    issue(main), issue(sub)
    sources.add_source(
        site=main.site, kind="storage", name="Battery", disconnect_at="Garage wall", by=a_recorder()
    )
    for panel in (main, sub):
        told = [str(change) for change in directory.differences(panel)]
        assert told == ["Battery: was not on site, now Garage wall"]


@pytest.mark.django_db
def test_vehicle_supply_equipment_is_no_source_of_supply():
    panel = a_panel()
    sources.add_source(site=panel.site, kind="vehicle", name="Car", by=a_recorder())
    assert issue(panel).content["sources"] == []


@pytest.mark.django_db
def test_a_panel_fed_through_lugs_says_so_on_both_papers():
    main = a_panel(feed_through_lugs=True)
    sub = a_panel(main.site, name="Attic panel")
    feeders.feed_panel(panel=sub, through=main, by=a_recorder())
    assert issue(sub).content["supply"]["way"] == "lugs"
    assert issue(main).content["identity"]["lugs_feed"] == ["Attic panel"]


@pytest.mark.django_db
def test_a_retired_panel_gets_no_further_revision():
    panel = a_panel()
    panels.retire_panel(panel=panel, now=NOW, by=a_recorder())
    with pytest.raises(Refused, match="retired"):
        issue(panel)


@pytest.mark.django_db
@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE panels_directoryrevision SET number = 9 WHERE id = %s",
        "UPDATE panels_directoryrevision SET content = '{}' WHERE id = %s",
        "DELETE FROM panels_directoryrevision WHERE id = %s",
    ],
)
def test_the_database_itself_refuses_to_alter_a_revision(statement):
    revision = issue(a_panel())
    with (
        pytest.raises(DatabaseError, match="Cannot update or delete"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement, [revision.pk])
    assert DirectoryRevision.objects.get(pk=revision.pk).number == 1


@pytest.mark.django_db(transaction=True)
def test_two_people_issuing_at_once_make_one_revision():
    panel, by = a_panel(), a_recorder()
    made, start = [], threading.Barrier(4)

    def one():
        start.wait()
        made.append(directory.issue_directory(panel=panel, by=by, now=NOW))
        connection.close()

    threads = [threading.Thread(target=one) for _ in range(4)]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]
    assert len({revision.pk for revision in made}) == 1
    assert panel.revisions.count() == 1


@pytest.mark.django_db
def test_the_card_carries_the_code_of_the_door_link_and_keeps_it():
    FirmFactory()
    panel = a_panel()
    now = timezone.now()
    first = issue(panel, now=now)
    address = papers.door_address(panel, now=now)
    assert reading.shows_code(papers.card(first, now=now), address)
    a_circuit(panel, 2)
    second = issue(panel, now=now)
    assert papers.door_address(panel, now=now) == address
    assert CustomerLink.objects.filter(site=panel.site, subject=panel.pk).count() == 1
    said = reading.text(papers.letter(second, now=now))
    assert "2" in said
    assert "Tallow Creek Electric" in said
    assert "First issue" in said


@pytest.mark.django_db
def test_a_paper_is_made_once_and_made_anew_for_another_address(django_assert_max_num_queries):
    panel = a_panel()
    now = timezone.now()
    revision = issue(panel, now=now)
    first = papers.letter(revision, now=now)
    assert papers.letter(revision, now=now) == first
    CustomerLink.objects.all().delete()
    assert papers.letter(revision, now=now) != first


@pytest.mark.django_db
def test_a_firm_that_changes_its_number_makes_old_cards_differ():
    firm = FirmFactory()
    panel = a_panel()
    issue(panel)
    firm.phone = "+16145550177"
    firm.save()
    assert [change.where for change in directory.differences(panel)] == ["the firm"]


@pytest.mark.django_db
def test_the_panels_of_a_home_stand_below_what_feeds_them():
    main, sub = a_full_house()
    first = a_panel(main.site, name="A panel fed by the garage", rating_a=60, bus_a=60, spaces=8)
    a_circuit(sub, 10, poles=2, kind="feeder", name="Loft", feeds=first)
    for panel in (first, sub, main):
        issue(panel)
    names = [revision.panel.name for revision in directory.in_force(main.site)]
    assert names == ["Main panel", "Garage panel", "A panel fed by the garage"]


@pytest.mark.django_db
def test_a_home_is_read_in_as_many_queries_however_many_panels(django_assert_num_queries):
    main, _sub = a_full_house()
    with django_assert_num_queries(5):
        assert len(directory.recorded_of(main.site)) == 2
    for number in range(3):
        a_circuit(a_panel(main.site, name=f"Shop {number}"), 1)
    with django_assert_num_queries(5):
        assert len(directory.recorded_of(main.site)) == 5


@pytest.mark.django_db
def test_the_paper_names_who_issued_it():
    by = CoordinatorFactory(name="Ada Roe")
    revision = directory.issue_directory(panel=a_panel(), by=by, now=NOW)
    assert "Ada Roe" in reading.text(papers.letter(revision, now=NOW))
