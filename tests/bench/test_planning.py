"""Does the bench solve any folder of the published layout, and tell what went wrong?"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from jobs.planning.checking.check import check
from tests.bench.planning import FAMILIES, Outcome, main
from tests.published import plans
from tests.published.instance import DATA, MISSING

TRSP = DATA / "trsp"
pytestmark = pytest.mark.skipif(not TRSP.is_dir(), reason=MISSING)


def test_an_instance_in_a_folder_of_ones_own_is_solved(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(TRSP / "C105.txt", tmp_path / "mine.txt")
    (tmp_path / "best_known.csv").write_text("instance,value\nmine,10000\n")
    kept = tmp_path / "plans"
    asked = ["--data", str(tmp_path), "--seconds", "4", "--seed", "2", "--plans", str(kept)]
    assert main(["trsp", *asked]) == 0
    (line,) = capsys.readouterr().out.splitlines()[1:]
    name, value, best, gap, *_, verdict = line.split()
    assert (name, best, verdict) == ("mine", "10000.00", "sound")
    assert float(gap.rstrip("%")) == pytest.approx(100 * (float(value) / 10000 - 1), abs=0.001)
    again = plans.read((kept / "mine.json").read_text())
    instance = FAMILIES["trsp"].read(tmp_path, "mine")
    assert check(instance.problem, again).sound
    assert instance.value(again) == pytest.approx(float(value), abs=0.005)


def test_what_is_not_there_or_broken_is_said_and_fails(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["trsp", "nowhere", "--data", str(tmp_path)]) == 1
    assert "nowhere  not read" in capsys.readouterr().out
    assert main(["roadef2007", "--data", str(tmp_path)]) == 1
    assert "No instances" in capsys.readouterr().out


def test_a_plan_the_checker_refuses_has_no_value() -> None:
    instance = FAMILIES["trsp"].read(TRSP, "C101")
    line = Outcome(instance, plans.read("[]"), 0.0).line()
    assert line.startswith("C101     100 violations, the first: ")
