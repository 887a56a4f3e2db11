"""How long a permit is good, by the ways of counting that authorities have published.

Each rule was read in the words of the authority named in its test
(Green Cove Springs FL QID=72, Deltona FL, Edina MN QID=614, UCF, Eugene OR QID=125). The dates
are ours: no authority publishes a worked example.
"""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.planning.permits import (
    CountedFrom,
    ExpiryRule,
    Inspected,
    good_until,
    inspection_due_on,
)

ISSUED = dt.date(2026, 1, 5)
PASSED = Inspected(on=dt.date(2026, 3, 2), passed=True)
FAILED = Inspected(on=dt.date(2026, 4, 6), passed=False)

GREEN_COVE_SPRINGS = ExpiryRule(days=180, counted_from=CountedFrom.INSPECTION)
DELTONA = ExpiryRule(days=180, counted_from=CountedFrom.PASSED)
EUGENE_ELECTRICAL = ExpiryRule(days=180, counted_from=CountedFrom.INSPECTION)
EUGENE_GENERAL = ExpiryRule(days=360, counted_from=CountedFrom.INSPECTION)
FROM_ISSUE = ExpiryRule(days=180, counted_from=CountedFrom.ISSUE)


def test_green_cove_springs_180_days_from_issue_or_the_most_recent_inspection():
    assert good_until(GREEN_COVE_SPRINGS, issued_on=ISSUED) == dt.date(2026, 7, 4)
    assert good_until(
        GREEN_COVE_SPRINGS, issued_on=ISSUED, inspections=[FAILED, PASSED]
    ) == FAILED.on + dt.timedelta(days=180)


def test_deltona_only_an_approved_inspection_counts():
    assert good_until(DELTONA, issued_on=ISSUED, inspections=[PASSED, FAILED]) == dt.date(
        2026, 8, 29
    )
    assert good_until(DELTONA, issued_on=ISSUED, inspections=[FAILED]) == dt.date(2026, 7, 4)


def test_eugene_electrical_180_days_and_everything_else_360():
    assert good_until(EUGENE_ELECTRICAL, issued_on=ISSUED) == dt.date(2026, 7, 4)
    assert good_until(EUGENE_GENERAL, issued_on=ISSUED) == dt.date(2026, 12, 31)


def test_counted_from_the_issue_no_inspection_lengthens_it():
    assert good_until(FROM_ISSUE, issued_on=ISSUED, inspections=[PASSED]) == dt.date(2026, 7, 4)


def test_an_extension_of_90_days_as_at_ucf_holds_when_it_reaches_further():
    written = dt.date(2026, 7, 4) + dt.timedelta(days=90)
    assert good_until(FROM_ISSUE, issued_on=ISSUED, extended_until=written) == written
    assert good_until(FROM_ISSUE, issued_on=ISSUED, extended_until=ISSUED) == dt.date(2026, 7, 4)


def test_a_rule_of_no_days_cannot_be_written():
    with pytest.raises(ValueError, match="one day"):
        ExpiryRule(days=0, counted_from=CountedFrom.ISSUE)


def test_an_inspection_is_due_so_many_days_after_the_work():
    assert inspection_due_on(work_done_on=dt.date(2026, 12, 30), days=3) == dt.date(2027, 1, 2)


days = st.dates(dt.date(2020, 1, 1), dt.date(2030, 1, 1))
inspected = st.builds(Inspected, on=days, passed=st.booleans())
rules = st.builds(ExpiryRule, days=st.integers(1, 1000), counted_from=st.sampled_from(CountedFrom))


@given(rules, days, st.lists(inspected), inspected)
def test_one_more_inspection_never_shortens_a_permit(rule, issued_on, before, one_more):
    with_it = good_until(rule, issued_on=issued_on, inspections=[*before, one_more])
    assert with_it >= good_until(rule, issued_on=issued_on, inspections=before)
    assert with_it >= issued_on + dt.timedelta(days=rule.days)
