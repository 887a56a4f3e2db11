"""Feeders make a tree, never a loop."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from panels.rules import tree

HOME = {"main": None, "garage": "main", "shop": "garage", "pool": "main"}


def test_a_panel_may_be_fed_from_any_that_it_does_not_feed():
    assert tree.loop(HOME, panel="pool", fed_from="shop") == ()
    assert tree.loop(HOME, panel="garage", fed_from="pool") == ()


def test_a_loop_is_told_from_the_panel_back_to_itself():
    assert tree.loop(HOME, panel="main", fed_from="main") == ("main", "main")
    assert tree.loop(HOME, panel="main", fed_from="garage") == ("main", "garage", "main")
    assert tree.loop(HOME, panel="main", fed_from="shop") == ("main", "garage", "shop", "main")


def test_a_loop_already_there_does_not_hang():
    assert tree.chain({"a": "b", "b": "a"}, "a") == ("a", "b")


def test_children_are_listed_under_what_feeds_them():
    assert tree.children(HOME) == {None: ["main"], "main": ["garage", "pool"], "garage": ["shop"]}


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=40))
def test_feeders_added_one_by_one_never_make_a_panel_feed_itself(wishes):
    parents: dict[int, int | None] = dict.fromkeys(range(10))
    for panel, fed_from in wishes:
        if not tree.loop(parents, panel=panel, fed_from=fed_from):
            parents[panel] = fed_from
    for panel in parents:
        above = tree.chain(parents, panel)
        assert parents[above[-1]] is None  # every panel hangs on the service in the end
