"""The firm's own names for circuits."""

from __future__ import annotations

import pytest
from django.core.cache import cache

from panels.queries.names import own_names
from tests.factories.panels import a_circuit, a_panel

pytestmark = pytest.mark.django_db


def test_a_name_used_three_times_is_the_firms_own_with_the_ratings_it_was_used_with():
    panel = a_panel()
    for number, rating in enumerate([20, 20, 15]):
        a_circuit(panel, 1 + number, name="Koi pond", rating_a=rating)
    for number in range(3):
        a_circuit(panel, 10 + 4 * number, poles=2, name="Kiln", rating_a=60)
        a_circuit(panel, 31 + number, kind="spare")
    a_circuit(panel, 36, name="Hall")
    found = {one.name: (one.poles, one.ratings) for one in own_names()}
    assert found == {"Koi pond": (1, (15, 20)), "Kiln": (2, (60,))}


def test_they_are_counted_once_in_ten_minutes(django_assert_num_queries):
    own_names()
    with django_assert_num_queries(0):
        own_names()
    cache.clear()
    with django_assert_num_queries(1):
        own_names()
