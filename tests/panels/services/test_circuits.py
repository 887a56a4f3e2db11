"""Breakers go where they fit, and nowhere else."""

from __future__ import annotations

import threading
import uuid
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.db import IntegrityError, connection, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from contractor.errors import Invalid, Refused, Stale
from panels.models import Circuit, Panel
from panels.services import circuits, feeders, load, panels, readings, sources, undo
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db


def sitting(panel: Panel) -> dict[str, str]:
    rows = panel.circuits.order_by("slots")
    return {row.seat_in(panel.frame).text: str(row) for row in rows}


def test_a_breaker_takes_its_spaces_down_the_column():
    panel = a_panel()
    a_circuit(panel, 1, poles=2, rating_a=50, name=" Range  upstairs ")
    a_circuit(panel, 5, half="a")
    a_circuit(panel, 5, half="b")
    a_circuit(panel, 2, kind="spare")
    assert sitting(panel) == {
        "1,3": "Range upstairs",
        "5a": "Outlets 5a",
        "5b": "Outlets 5b",
        "2": "spare",
    }


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"space": 1}, r"Space 1 is taken: Range, 50 A, sits in 1,3"),
        ({"space": 3}, r"Space 3 is taken: Range"),
        ({"space": 3, "half": "a"}, r"Space 3 holds a full-size breaker: Range.*does not fit over"),
        ({"space": 7}, r"Space 7 is taken: Tandem, 15 A, sits in 7a"),
        ({"space": 5, "poles": 2}, r"Space 7 is taken: Tandem"),
        ({"space": 7, "half": "a"}, r"Space 7 is taken: Tandem"),
        ({"space": 5, "half": "a", "poles": 2, "name": "Quad"}, None),
        ({"space": 5, "half": "b", "poles": 2, "name": "Quad"}, r"Space 7 is taken: Tandem"),
        ({"space": 43}, r"there is no space 43"),
        ({"space": 42, "poles": 2}, r"runs off the end"),
        ({"space": 9, "poles": 3}, r"needs 3 legs"),
        ({"space": 9, "rating_a": 0}, r"Breaker, A: "),
        ({"space": 9, "name": " "}, r"Say what it serves"),
        ({"space": 9, "kind": "spare", "backed_up": True}, r"cannot be backed up"),
        ({"space": 9, "kind": "lamp"}, r"Kind: "),
    ],
)
def test_a_wrong_layout_is_refused_in_words_and_nothing_is_written(said, words):
    panel = a_panel()
    a_circuit(panel, 1, poles=2, rating_a=50, name="Range")
    a_circuit(panel, 7, half="a", rating_a=15, name="Tandem")
    if words is None:
        a_circuit(panel, **said)
        return
    with pytest.raises(Refused, match=words):
        a_circuit(panel, **said)
    assert panel.circuits.count() == 2


def test_a_tandem_is_refused_where_the_door_says_none():
    panel = a_panel(tandem_spaces="none")
    with pytest.raises(Invalid, match="Space 1 does not take a tandem; marked for tandems: none"):
        a_circuit(panel, 1, half="a")


def test_a_change_needs_the_revision_it_was_based_on():
    circuit = a_circuit(a_panel())
    changed = circuits.change_circuit(
        by=a_recorder(), circuit=circuit, rev=1, name="Kitchen counter", rating_a=15
    )
    assert (changed.rev, changed.name, changed.rating_a) == (2, "Kitchen counter", 15)
    with pytest.raises(Stale) as stale:
        circuits.change_circuit(by=a_recorder(), circuit=circuit, rev=1, name="Bath")
    assert stale.value.current_rev == 2
    circuit.refresh_from_db()
    assert circuit.name == "Kitchen counter"


def test_a_shed_order_goes_when_the_backup_goes():
    circuit = a_circuit(a_panel(), backed_up=True, shed_order=2)
    assert circuit.shed_order == 2
    assert (
        circuits.change_circuit(by=a_recorder(), circuit=circuit, backed_up=False).shed_order
        is None
    )


def test_a_breaker_moves_to_a_free_space_and_changes_places_when_asked():
    panel = a_panel()
    bath = a_circuit(panel, 1, name="Bath")
    hall = a_circuit(panel, 2, name="Hall")
    a_circuit(panel, 9, poles=2, rating_a=50, name="Range")
    circuits.change_circuit(by=a_recorder(), circuit=bath, space=5)
    assert sitting(panel) == {"5": "Bath", "9,11": "Range", "2": "Hall"}
    with pytest.raises(Refused, match="Space 2 is taken: Hall"):
        circuits.change_circuit(by=a_recorder(), circuit=bath, space=2)
    circuits.change_circuit(by=a_recorder(), circuit=bath, space=2, swap=True)
    assert sitting(panel) == {"5": "Hall", "9,11": "Range", "2": "Bath"}
    with pytest.raises(Refused, match="Space 9 is taken: Range"):
        circuits.change_circuit(by=a_recorder(), circuit=hall, space=9, swap=True)


def test_neighbouring_breakers_of_two_poles_change_places_in_one_go():
    panel = a_panel()
    dryer = a_circuit(panel, 1, poles=2, rating_a=30, name="Dryer")
    a_circuit(panel, 5, poles=2, rating_a=50, name="Range")
    circuits.change_circuit(by=a_recorder(), circuit=dryer, space=5, swap=True)
    assert sitting(panel) == {"1,3": "Range", "5,7": "Dryer"}


def test_a_breaker_that_feeds_a_panel_or_connects_a_source_stays():
    main = a_panel()
    sub = a_panel(main.site, name="Garage panel", rating_a=100)
    feeder = a_circuit(main, 1, poles=2, rating_a=100, kind="feeder", name="", feeds=sub)
    assert feeder.name == "Garage panel"
    with pytest.raises(Refused, match=r"feeds Garage panel\. Say first what feeds"):
        circuits.remove_circuit(by=a_recorder(), circuit=feeder)
    with pytest.raises(Refused, match="feeds Garage panel, so it stays a feeder"):
        circuits.change_circuit(by=a_recorder(), circuit=feeder, kind="branch")
    breaker = a_circuit(main, 2, poles=2, kind="spare", rating_a=40)
    sources.add_source(
        by=a_recorder(), site=main.site, kind="storage", name="Garage battery", circuit=breaker
    )
    breaker.refresh_from_db()
    assert (breaker.kind, breaker.name) == ("source", "Garage battery")
    with pytest.raises(Refused, match="Garage battery is connected here"):
        circuits.remove_circuit(by=a_recorder(), circuit=breaker)


def test_what_was_put_in_taken_out_or_changed_is_taken_back():
    panel = a_panel()
    circuit = a_circuit(panel, 1, name="Bath")
    reading = readings.record_reading(
        panel=panel, circuit=circuit, kind="torque", value=25, between="Terminal",
        by=a_recorder(), now=panel.changed_at,
    )  # fmt: skip
    changed = circuits.change_circuit(by=a_recorder(), circuit=circuit, name="Hall", space=5)
    undone = undo.undo_circuit(by=a_recorder(), panel=panel, circuit_id=circuit.pk, rev=changed.rev)
    assert undone is not None
    assert (undone.name, undone.space, undone.rev) == ("Bath", 1, 3)
    circuits.remove_circuit(by=a_recorder(), circuit=circuit)
    with pytest.raises(Stale):
        undo.undo_circuit(by=a_recorder(), panel=panel, circuit_id=circuit.pk, rev=1)
    back = undo.undo_circuit(by=a_recorder(), panel=panel, circuit_id=circuit.pk, rev=3)
    assert back is not None
    assert (back.pk, back.name, back.rev) == (circuit.pk, "Bath", 4)
    reading.refresh_from_db()
    assert reading.circuit_id == circuit.pk
    other = a_circuit(panel, 3)
    assert undo.undo_circuit(by=a_recorder(), panel=panel, circuit_id=other.pk, rev=1) is None
    assert sitting(panel) == {"1": "Bath"}


def test_a_load_comes_back_to_its_breaker_unless_it_was_taken_off_before():
    panel, by = a_panel(), a_recorder()
    circuit = a_circuit(panel, 1, poles=2, name="Dryer")
    said = {"site": panel.site, "circuit": circuit, "kind": "dryer", "nameplate": 5.0}
    hangs, gone = (
        load.add_load(**said, name=name, unit="kW", volts=240.0, by=by) for name in ("Dryer", "Old")
    )
    load.change_load(load=gone, circuit=None, by=by)
    circuits.remove_circuit(by=by, circuit=circuit)
    undo.undo_circuit(by=by, panel=panel, circuit_id=circuit.pk, rev=circuit.rev)
    hangs.refresh_from_db()
    gone.refresh_from_db()
    assert (hangs.circuit_id, gone.circuit_id) == (circuit.pk, None)


def test_undo_is_refused_when_the_space_was_taken_meanwhile():
    panel = a_panel()
    circuit = a_circuit(panel, 1, name="Bath")
    circuits.remove_circuit(by=a_recorder(), circuit=circuit)
    a_circuit(panel, 1, name="Hall")
    with pytest.raises(Refused, match="Space 1 is taken: Hall"):
        undo.undo_circuit(by=a_recorder(), panel=panel, circuit_id=circuit.pk, rev=1)
    with pytest.raises(Refused, match="nothing to take back"):
        undo.undo_circuit(by=a_recorder(), panel=a_panel(), circuit_id=circuit.pk, rev=1)


def test_undoing_a_new_feeder_leaves_the_panel_it_fed_to_the_service():
    main = a_panel()
    sub = a_panel(main.site, name="Garage panel", rating_a=100)
    feeder = a_circuit(main, 1, poles=2, rating_a=100, kind="feeder", feeds=sub)
    undo.undo_circuit(by=a_recorder(), panel=main, circuit_id=feeder.pk, rev=1)
    sub.refresh_from_db()
    assert sub.fed_from is None
    assert not main.circuits.exists()


def test_a_retired_panel_is_read_but_not_changed():
    panel = a_panel()
    circuit = a_circuit(panel)
    panels.retire_panel(by=a_recorder(), panel=panel, now=panel.changed_at)
    for change in (
        lambda: a_circuit(panel, 2),
        lambda: circuits.change_circuit(by=a_recorder(), circuit=circuit, name="x"),
        lambda: circuits.remove_circuit(by=a_recorder(), circuit=circuit),
        lambda: feeders.feed_panel(by=a_recorder(), panel=panel),
    ):
        with pytest.raises(Refused, match="Main panel is retired"):
            change()


def test_the_database_itself_refuses_two_breakers_in_one_space():
    panel = a_panel()
    a_circuit(panel, 5, half="a", poles=2)
    said: dict[str, Any] = {"panel": panel, "space": 7, "rating_a": 20, "name": "By hand"}
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS one_breaker_per_space IMMEDIATE")
    Circuit.objects.create(slots=[(5, 7)], **said)
    with pytest.raises(IntegrityError, match="one_breaker_per_space"), transaction.atomic():
        Circuit.objects.create(slots=[(7, 8)], **said)


def test_the_last_guard_names_who_sits_there():
    """A row whose slots say more than its space, as only hand-written SQL could make it."""
    panel = a_panel()
    Circuit.objects.create(panel=panel, space=1, rating_a=20, name="Odd one", slots=[(0, 12)])
    with pytest.raises(Refused, match="is taken: Odd one, 20 A, sits in 1"):
        a_circuit(panel, 5)
    assert panel.circuits.count() == 1


def test_the_same_id_twice_is_a_fault_not_a_second_row():
    panel = a_panel()
    key = uuid.uuid4()
    a_circuit(panel, 1, id=key)
    with pytest.raises(IntegrityError), transaction.atomic():
        a_circuit(panel, 2, id=key)


class AnyOrder(TestCase):
    """Any sequence of puts, moves and removes leaves every half space with at most one owner."""

    step = st.tuples(
        st.sampled_from(["put", "put", "put", "move", "remove"]),
        st.integers(0, 9),
        st.integers(1, 3),
        st.sampled_from(["", "a", "b"]),
        st.booleans(),
    )

    @settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(
        steps=st.lists(step, min_size=5, max_size=25),
        numbering=st.sampled_from(["across", "down", "single"]),
        system=st.sampled_from(["1ph-240", "3ph-208"]),
    )
    def test_no_overlap_ever(self, steps, numbering, system) -> None:
        panel = a_panel(
            SiteFactory(), spaces=8, numbering=numbering, system=system, tandem_spaces="1-6"
        )
        for verb, space, poles, half, swap in steps:
            try:
                self._do(panel, verb, space, poles, half, swap)
            except Refused:
                continue
        owners: dict[tuple[int, str], str] = {}
        for circuit in panel.circuits.all():
            for pole in circuit.seat_in(panel.frame).poles:
                for half in [pole.half.value] if pole.half else ["a", "b"]:
                    assert (pole.space, half) not in owners
                    owners[pole.space, half] = str(circuit.pk)
                    assert not pole.half or pole.space <= 6

    def _do(self, panel, verb, space, poles, half, swap):
        if verb == "put":
            a_circuit(panel, space, poles=poles, half=half, name="x")
        elif there := panel.circuits.order_by("space").first():
            if verb == "move":
                circuits.change_circuit(
                    by=a_recorder(), circuit=there, space=space, half=half, swap=swap
                )
            else:
                circuits.remove_circuit(by=a_recorder(), circuit=there)


@pytest.mark.django_db(transaction=True)
def test_of_two_phones_putting_a_breaker_there_at_once_one_is_told_who_was_first():
    panel, by = a_panel(), a_recorder()
    at_once = threading.Barrier(2)

    def put(name: str) -> str:
        try:
            at_once.wait(timeout=10)
            circuits.put_breaker(panel=panel, space=1, poles=2, rating_a=30, name=name, by=by)
        except Refused as refusal:
            return refusal.sentence
        finally:
            connection.close()
        return "put"

    with ThreadPoolExecutor(2) as phones:
        said = sorted(phones.map(put, ["Dryer", "Range"]), key=len)
    first = panel.circuits.get()
    assert said[0] == "put"
    assert said[1].startswith(f"Space 1 is taken: {first.name}, 30 A, sits in 1,3.")
