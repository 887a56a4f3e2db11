"""When two people edit one record, is nothing of either lost or taken silently?"""

from hypothesis import given
from hypothesis import strategies as st

from contractor.stale import three_way

FIELDS = ("name", "phone", "notes")
rows = st.fixed_dictionaries({field: st.integers(0, 2) for field in FIELDS})


def test_what_only_they_changed_is_taken_and_told() -> None:
    joined, told = three_way(base={"name": "A"}, theirs={"name": "B"}, mine={"name": "A"})
    assert joined == {"name": "B"}
    assert [(change.was, change.now, change.clashes) for change in told] == [("A", "B", False)]


def test_what_only_i_changed_stands_untold() -> None:
    assert three_way(base={"name": "A"}, theirs={"name": "A"}, mine={"name": "B"}) == (
        {"name": "B"},
        [],
    )


def test_what_both_changed_keeps_mine_and_is_marked() -> None:
    joined, told = three_way(base={"name": "A"}, theirs={"name": "B"}, mine={"name": "C"})
    assert joined == {"name": "C"}
    assert (told[0].was, told[0].now, told[0].typed, told[0].clashes) == ("A", "B", "C", True)


def test_the_same_change_twice_is_no_clash() -> None:
    assert three_way(base={"name": "A"}, theirs={"name": "B"}, mine={"name": "B"})[1] == []


@given(rows, rows, rows)
def test_every_change_of_theirs_is_kept_or_told(base, theirs, mine) -> None:
    joined, told = three_way(base=base, theirs=theirs, mine=mine)
    marked = {change.field for change in told if change.clashes}
    for field in FIELDS:
        if theirs[field] != base[field]:
            assert joined[field] == theirs[field] or field in marked
        if mine[field] != base[field]:
            assert joined[field] == mine[field]
