"""Is a list taken in whole or not at all, and twice without a change?"""

from __future__ import annotations

import datetime as dt
import io

import openpyxl
import pytest

from contractor.errors import Invalid, Refused
from contractor.lists.customers import example
from contractor.models import Customer, Person, Site, UploadedList
from contractor.queries.lists import customer_list
from contractor.services import imports
from tests.factories.contractor import (
    AuthorityFactory,
    CoordinatorFactory,
    CustomerFactory,
    FirmFactory,
    SiteFactory,
)

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
HEAD = "Customer,Customer number,Phone,E-mail,Site street,Site city,Site state,Site ZIP,Notes\n"


@pytest.fixture(autouse=True)
def _firm() -> None:
    FirmFactory()


@pytest.fixture
def by() -> Person:
    return CoordinatorFactory()


def upload(data: bytes | str, by: Person) -> UploadedList:
    raw = data.encode() if isinstance(data, str) else data
    return imports.upload(file=io.BytesIO(raw), name="ours.csv", by=by, now=NOW)


def take(data: bytes | str, by: Person) -> dict[str, int]:
    return imports.take_in(uploaded=upload(data, by), by=by, now=NOW).outcome


def plan(text: str, by: Person) -> imports.Plan:
    return imports.plan(imports.rows_of(upload(text, by)))


def rows() -> list[dict[str, object]]:
    return [*Customer.objects.order_by("pk").values(), *Site.objects.order_by("pk").values()]


def test_the_example_is_taken_in_and_a_second_time_changes_nothing(by: Person) -> None:
    first = take(example(), by)
    assert (first["customers_added"], first["sites_added"], first["rows"]) == (3, 3, 4)
    before = rows()
    second = take(example(), by)
    assert second["rows_unchanged"] == 4
    assert {
        second[f"{what}_{how}"] for what in ("customers", "sites") for how in ("added", "changed")
    } == {0}
    assert rows() == before


def test_the_same_list_as_a_workbook_changes_nothing_either(by: Person) -> None:
    text = HEAD + "Avery Quill,1001,614-555-0142,,118 Mill Race,Harrow Mills,OH,43099,\n"
    take(text, by)
    book = openpyxl.Workbook()
    for line in text.splitlines():
        cells: list[object] = list(line.split(","))
        book.active.append([int(cell) if str(cell).isdecimal() else cell for cell in cells])
    out = io.BytesIO()
    book.save(out)
    assert take(out.getvalue(), by)["rows_unchanged"] == 1


def test_what_goes_out_comes_in_without_a_change(by: Person) -> None:
    take(example(), by)
    Customer.objects.filter(name="Avery Quill").update(notes="=1+1, or\n-so", list_key=None)
    SiteFactory(customer__name="Ω & Sons; “Ltd.”", latitude=40.05123, longitude=-82.9)
    CustomerFactory(name="Wren Abroad", phone="+442079460018")
    before = rows()
    assert take(b"".join(customer_list()), by)["rows_unchanged"] == 6
    assert rows() == before


def test_each_bad_row_is_named_with_line_column_and_reason(by: Person) -> None:
    bad = HEAD + (
        "Avery Quill,1,614-555-0142,,118 Mill Race,Harrow Mills,OH,43099,\n"
        ",2,,,,,,,\n"
        "Rowan Sedge,3,12,not mail,3 Lock Street,Harrow Mills,OH,90210,\n"
        "Wren Abbot,4,,,4 Lock Street,,OH,43099,\n"
    )
    told = [(problem.line, problem.header) for problem in plan(bad, by).problems]
    assert told == [
        (3, "Customer"),
        (4, "Phone"),
        (4, "E-mail"),
        (4, "Site ZIP"),
        (5, "Site city"),
    ]
    assert plan(bad, by).problems[0].sentence == "Fill this in: it cannot be left empty."
    with pytest.raises(Invalid, match="3 rows cannot be used"):
        take(bad, by)
    assert not Customer.objects.exists()


def test_a_name_that_is_not_among_those_kept_is_told(by: Person) -> None:
    AuthorityFactory(name="Harrow Mills")
    text = (
        "Customer,Site street,Site city,Site state,Site ZIP,AHJ\n"
        "Avery,1 Mill Race,Harrow Mills,OH,43099,harrow mills\n"
        "Rowan,2 Mill Race,Harrow Mills,OH,43099,Nowhere\n"
    )
    found = plan(text, by)
    assert [(problem.line, problem.header) for problem in found.problems] == [(3, "Authority")]
    assert found.steps[0].site.values["authority"].name == "Harrow Mills"


def test_two_rows_of_one_customer_make_one_customer_with_two_sites(by: Person) -> None:
    text = HEAD + (
        "Tern Rentals,,740-555-0118,,7 Foundry Court,Harrow Mills,OH,43099,\n"
        "tern rentals,,(740) 555-0118,,9 Foundry Court,Harrow Mills,OH,43099,\n"
    )
    outcome = take(text.replace("tern rentals", "Tern Rentals"), by)
    assert (outcome["customers_added"], outcome["sites_added"]) == (1, 2)


def test_two_rows_that_contradict_each_other_are_told_apart_by_a_person(by: Person) -> None:
    text = HEAD + ("Avery Quill,1001,614-555-0142,,,,,,\nAvery Quill,1001,614-555-0143,,,,,,\n")
    problem = plan(text, by).problems[0]
    assert (problem.line, problem.header) == (3, "Phone")
    assert "Line 2" in problem.sentence


def test_an_empty_cell_empties_no_field_and_a_filled_one_changes_it(by: Person) -> None:
    kept = CustomerFactory(
        name="Avery Quill", phone="+16145550142", email="avery@mail.example", notes="old"
    )
    take(HEAD + "Avery Quill,,614-555-0142,,,,,,new\n", by)
    kept.refresh_from_db()
    assert (kept.notes, kept.email, kept.rev) == ("new", "avery@mail.example", 2)


@pytest.mark.parametrize(
    ("row", "matches"),
    [
        ("Someone New,1001,,,,,,,", True),
        ("AVERY QUILL,,614-555-0142,,,,,,", True),
        ("Avery Quill,,,AVERY@mail.example,,,,,", True),
        ("Avery Quill,,,,118 mill race,Harrow Mills,OH,43099,", True),
        ("Avery Quill,9999,614-555-0142,,,,,,", False),
        ("Avery Quill,,614-555-0199,,,,,,", False),
        ("Someone Else,,614-555-0142,,,,,,", False),
    ],
)
def test_whom_a_row_means(by: Person, row: str, matches: bool) -> None:
    there = CustomerFactory(
        name="Avery Quill", phone="+16145550142", email="avery@mail.example", list_key="1001"
    )
    SiteFactory(customer=there, street="118 Mill Race", city="Harrow Mills", zip="43099")
    assert (plan(HEAD + row + "\n", by).groups[0].record == there) is matches


def test_a_new_customer_who_looks_like_one_is_pointed_out_and_still_new(by: Person) -> None:
    there = CustomerFactory(name="Avery Quill", phone="+16145550142", email="")
    group = plan(HEAD + "Averie Quill,,614-555-0142,,,,,,\n", by).groups[0]
    assert (group.record, group.looks_like) == (None, there)


def test_what_changed_since_the_preview_is_worked_out_anew(by: Person) -> None:
    uploaded = upload(HEAD + "Avery Quill,1001,614-555-0142,,,,,,\n", by)
    assert imports.plan(imports.rows_of(uploaded)).count(imports.Verb.ADD) == 1
    CustomerFactory(name="Avery Quill", phone="+16145550142", list_key="1001", email="")
    outcome = imports.take_in(uploaded=uploaded, by=by, now=NOW).outcome
    assert (outcome["customers_added"], outcome["rows_unchanged"]) == (0, 1)


def test_one_upload_is_taken_in_once(by: Person) -> None:
    uploaded = upload(HEAD + "Avery Quill,,614-555-0142,,,,,,\n", by)
    imports.take_in(uploaded=uploaded, by=by, now=NOW)
    with pytest.raises(Refused, match="already"):
        imports.take_in(uploaded=uploaded, by=by, now=NOW)


def test_the_noughts_a_spreadsheet_drops_are_put_back(by: Person) -> None:
    take(HEAD + "Avery,,,,1 Main Street,Ayer,MA,1432,\n", by)
    assert Site.objects.get().zip == "01432"


def test_columns_nobody_understands_are_named(by: Person) -> None:
    found = plan("Customer,Colour\nAvery,red\n", by)
    assert found.unused == ["Colour"]
    with pytest.raises(Invalid, match="Customer"):
        upload("Colour\nred\n", by)


def test_the_questions_asked_do_not_grow_with_the_list(
    by: Person, django_assert_num_queries
) -> None:
    def text(count: int) -> str:
        lines = [
            f"Customer {number},{number},614-555-0142,,{number} Mill Race,Harrow Mills,OH,43099,"
            for number in range(count)
        ]
        return HEAD + "\n".join(lines)

    take(text(3), by)
    few, many = (imports.rows_of(upload(text(count), by)) for count in (3, 60))
    with django_assert_num_queries(5):
        imports.plan(few)
    with django_assert_num_queries(5):
        imports.plan(many)
