"""Do plain values of the field read as people say them?"""

import pytest

from jobs.templatetags.field import lasting


@pytest.mark.parametrize(
    ("minutes", "said"), [(45, "45 min"), (60, "1 h"), (90, "1 h 30 min"), (480, "8 h")]
)
def test_a_duration_is_told_in_hours_and_minutes(minutes, said):
    assert lasting(minutes) == said
