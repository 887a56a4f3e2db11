"""Does the command print ours beside the printed answer, and fail when they differ?"""

from __future__ import annotations

import io
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from panels.rules.questions import QUESTIONS

STARTERS = Path(__file__).parents[3] / "panels" / "starters"
EXAMPLES = Path(__file__).parents[2] / "worked_examples"


def work(*paths: Path, **options: Any) -> tuple[str, str]:
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
    assert "The text of this edition was not read in full." in out
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


def test_a_folder_is_worked_whole() -> None:
    out, _ = work(STARTERS, brief=True)
    assert f"{len(QUESTIONS)} of {len(QUESTIONS)} come out as printed." in out


def test_the_methods_are_listed() -> None:
    out, _ = work(methods=True)
    assert all(f"\n{key} " in f"\n{out}" for key in QUESTIONS)


@pytest.mark.parametrize("key", QUESTIONS)
def test_every_method_tells_its_fields_a_first_example_and_its_lines(key: str) -> None:
    out, _ = work(about=key)
    fields, example, lines = re.split("A first example:|Lines of its result:", out)
    assert f'method = "{key}"' in example
    plain = tomllib.loads(example)
    named = next(plain[name] for name in ("inputs", "dwelling", "building") if name in plain)
    assert all(name in fields for name in named)
    assert all(f" {answer['line']} " in lines for answer in plain["answers"])


def test_an_unknown_method_is_told_with_those_there_are() -> None:
    with pytest.raises(CommandError, match=r"usual.*standard, optional"):
        work(about="usual")
    with pytest.raises(CommandError, match="--methods"):
        work()


def test_a_line_nobody_can_guess_is_named_after_all_lines_are_printed(tmp_path: Path) -> None:
    path = tmp_path / "guess.toml"
    text = (EXAMPLES / "d1a.toml").read_text(encoding="utf-8")
    path.write_text(text.replace('"load"', '"total load"'), encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()
    with pytest.raises(CommandError):
        call_command("work_example", str(path), stdout=out, stderr=err)
    assert "[Table 220.42]" in out.getvalue()
    assert "no line 'total load'; there are lighting" in err.getvalue()
