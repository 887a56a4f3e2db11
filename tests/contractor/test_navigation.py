"""Does everyone find the pages of their role, and see where they are?"""

import pytest

from contractor import navigation
from contractor.models import Role


def test_a_technicians_pages_in_the_order_of_a_day():
    links = navigation.index(Role.TECHNICIAN, "/elsewhere/")
    assert [(str(link.label), link.url) for link in links] == [
        ("Day", "/day/"),
        ("Week", "/week/"),
        ("Sites", "/sites/"),
        ("Conductors", "/conductors/"),
        ("Praise", "/thanks/"),
        ("You", "/account/"),
    ]
    assert not any(link.is_here for link in links)


@pytest.mark.parametrize(
    ("address", "here"),
    [
        ("/sites/", "Sites"),
        ("/sites/4/panels/", "Sites"),
        ("/day/", "Day"),
        ("/", None),
        ("/sitesold/", None),
    ],
)
def test_the_page_we_are_on_is_marked_once(address, here):
    links = navigation.thumb(Role.TECHNICIAN, address)
    assert [str(link.label) for link in links if link.is_here] == ([here] if here else [])


def test_without_a_role_there_is_nowhere_to_go():
    assert navigation.index("", "/") == []


def test_every_role_has_an_index_and_only_the_field_a_thumb_bar():
    assert set(navigation.INDEX) == set(Role.values)
    assert set(navigation.THUMB) == {Role.TECHNICIAN}
