"""Does a list that goes out run nothing, and come back unchanged?"""

import io

from hypothesis import given
from hypothesis import strategies as st

from contractor.lists import read, write

RISKY = ["=1+1", "+1", "-1", "@x", "\tx", "\rx", "a,=1", "a\n=1", "a;@x", "'x", "''=1", "x"]


def test_no_cell_starts_like_a_formula() -> None:
    text = write(["Note"], [[cell] for cell in RISKY]).decode("utf-8-sig")
    for cell in RISKY[:6]:
        assert f"'{cell}" in text
    assert "a,'=1" in text
    assert "a\n'=1" in text
    assert "a;'@x" in text


def test_each_risky_cell_comes_back_as_it_went_out() -> None:
    rows = read(io.BytesIO(write(["Note"], [[cell] for cell in RISKY])))
    assert [row.values["Note"] for row in rows] == RISKY


@given(st.text(st.sampled_from("=+-@'\",;|\t\n ab"), min_size=1).map(str.strip).filter(bool))
def test_any_text_comes_back_as_it_went_out(cell: str) -> None:
    assert read(io.BytesIO(write(["Note", "More"], [[cell, "x"]])))[0].values["Note"] == cell
