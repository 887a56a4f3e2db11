"""One panel job, from an empty firm and the first call to the one-week check-in and its answer."""

from __future__ import annotations

import pytest

from tests.stories.steps import firm


def test_one_panel_job_from_the_first_call_to_the_check_in(transactional_db, smtp) -> None:
    owner = firm.begin()
    firm.describe_the_firm(owner)
    firm.keep_lists(owner)
