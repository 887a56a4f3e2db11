"""Does `make fresh` delete what was kept, and only after a yes?"""

import io
import sys

import pytest

from contractor.local import fresh


@pytest.fixture
def kept(folder, monkeypatch):
    monkeypatch.setenv("LOCAL_DIR", str(folder / "kept"))
    (folder / "kept" / "photos").mkdir(parents=True)
    return folder / "kept"


@pytest.mark.parametrize("answer", ["", "n\n", "y\n", "\n"])
def test_without_a_plain_yes_nothing_is_deleted(kept, monkeypatch, answer):
    monkeypatch.setattr(sys, "stdin", io.StringIO(answer))
    assert fresh.main() == 1
    assert (kept / "photos").exists()


def test_after_a_yes_everything_is_deleted_and_a_second_time_there_is_nothing(
    kept, monkeypatch, capsys
):
    monkeypatch.setattr(sys, "stdin", io.StringIO("yes\n"))
    assert fresh.main() == 0
    assert not kept.exists()
    assert fresh.main() == 0
    assert "nothing to delete" in capsys.readouterr().out
