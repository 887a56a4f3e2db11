"""Does the command print ours beside the printed answer, and fail when they differ?"""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

EXAMPLES = Path(__file__).parents[2] / "worked_examples"


def work(*paths: Path, **options: bool) -> tuple[str, str]:
    out, err = io.StringIO(), io.StringIO()
    call_command("work_example", *map(str, paths), stdout=out, stderr=err, **options)
    return out.getvalue(), err.getvalue()


def test_it_prints_answer_expected_difference_and_lines() -> None:
    out, _ = work(EXAMPLES / "d1a.toml")
    assert "load: ours 18,600 VA, printed 18,600 VA, difference +0.00" in out
    assert "3,000 VA × 100 % + 6,000 VA × 35 %" in out
    assert "[Table 220.42]" in out
    assert "1 of 1 come out as printed." in out


def test_brief_leaves_the_lines_out() -> None:
    out, _ = work(EXAMPLES / "d1a.toml", brief=True)
    assert "printed 18,600 VA" in out
    assert "[Table 220.42]" not in out


def test_what_has_to_be_confirmed_is_printed() -> None:
    out, _ = work(EXAMPLES / "d15_before_control.toml")
    assert "120.57: known only from a summary; confirm against the printed code." in out


def test_a_wrong_answer_and_a_broken_file_are_named_and_the_rest_is_worked(tmp_path: Path) -> None:
    wrong, broken = tmp_path / "wrong.toml", tmp_path / "broken.toml"
    text = (EXAMPLES / "d1a.toml").read_text(encoding="utf-8")
    wrong.write_text(text.replace("18600 VA", "18700 VA"), encoding="utf-8")
    broken.write_text(text.replace("1500 ft2", "1500 ft"), encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()
    with pytest.raises(CommandError, match=r"2 of 3 do not come out.*wrong.toml, .*broken.toml"):
        call_command(
            "work_example", str(wrong), str(broken), str(EXAMPLES / "d2a.toml"),
            stdout=out, stderr=err,
        )  # fmt: skip
    assert "load: ours 18,600 VA, printed 18,700 VA, difference -100.00 (within 0.5): OFF" in (
        out.getvalue()
    )
    assert "dwelling.floor_area: 1,500 ft is not an area" in err.getvalue()
    assert "printed 21,480 VA" in out.getvalue()
