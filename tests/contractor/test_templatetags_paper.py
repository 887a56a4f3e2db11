"""Do states, tallies, phone numbers and page links come out as people read them?"""

import pytest
from django.contrib.messages.storage.cookie import CookieStorage
from django.core.paginator import Paginator
from django.template import Context, Template

from contractor import notices
from contractor.templatetags import paper


def written(source, **context):
    return Template("{% load paper %}" + source).render(Context(context))


@pytest.mark.parametrize(
    ("number", "shown"),
    [
        ("+16145550142", "(614) 555-0142"),
        ("+442079460018", "+44 20 7946 0018"),
        ("ask Maren", "ask Maren"),
        ("", ""),
        (None, ""),
    ],
)
def test_a_phone_number_is_written_as_it_is_dialled_here(number, shown):
    assert paper.phone(number) == shown


def test_a_state_is_its_word_with_a_mark():
    assert (
        written("{% state 'under_way' %}")
        == '<span class="state" data-state="active">under way</span>'
    )
    assert 'data-state="late">Overdue 3 days<' in written("{% state 'late' 'Overdue 3 days' %}")
    assert 'data-state="open">surveyed<' in written("{% state 'surveyed' %}")


def test_a_state_cannot_carry_markup():
    assert "<b>" not in written("{% state word %}", word="<b>done</b>")


def test_every_mark_a_word_maps_to_is_drawn():
    assert set(paper.MARK_OF.values()) <= set(paper.MARKS)


def test_a_tally_opens_its_list_and_goes_quiet_at_nought():
    one = written("{% tally 1318 'Callbacks open' '/callbacks/' state='late' %}")
    assert 'href="/callbacks/"' in one
    assert "1,318" in one
    assert 'data-state="late"' in one
    assert 'data-state="none"' in written("{% tally 0 'Callbacks open' '/' state='late' %}")


def test_blank_cells_stay_out_of_the_title_block():
    block = written("{% titleblock 'Main panel' revision=0 by=person %}", person=None)
    assert "<h1>Main panel</h1>" in block
    assert "Revision" in block, "revision 0 is a revision"
    assert "<dt>By</dt>" not in block
    assert "<dl>" not in written("{% titleblock 'Sites' %}")


def test_long_lists_offer_the_ends_and_the_neighbours():
    pages = Paginator(range(412), 25)
    gap = Paginator.ELLIPSIS
    assert paper.page_numbers(pages.page(6)) == [1, gap, 5, 6, 7, gap, 17]


def test_a_message_knows_where_it_is_taken_back(rf):
    request = rf.get("/")
    request._messages = kept = CookieStorage(request)
    notices.say(request, "Visit moved.", undo="/visits/7/undo/")
    notices.say(request, "Visit moved.")
    assert [paper.undo(message) for message in kept] == ["/visits/7/undo/", ""]
