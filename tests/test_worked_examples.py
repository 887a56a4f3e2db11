"""Do the published examples in ``tests/worked_examples/`` come out as they are printed?"""

from __future__ import annotations

from pathlib import Path

import pytest

from panels.worked_examples import read_file, work

FILES = sorted((Path(__file__).parent / "worked_examples").glob("*.toml"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_published_example_comes_out_as_printed(path: Path) -> None:
    _, comparisons = work(read_file(path))
    off = [
        f"{one.answer.line}: ours {one.ours}, printed {one.answer.value}"
        for one in comparisons
        if not one.fits
    ]
    assert not off, "; ".join(off)
