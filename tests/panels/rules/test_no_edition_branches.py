"""Do the rules anywhere ask which edition they are working by? They must not."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import panels.rules

FILES = sorted(Path(panels.rules.__file__).parent.rglob("*.py"))
CHOICES = (ast.If, ast.IfExp, ast.Match, ast.Compare)


def branches(source: str) -> list[str]:
    """The conditions that name an edition's key or year."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, CHOICES):
            continue
        asked = node.subject if isinstance(node, ast.Match) else getattr(node, "test", node)
        text = ast.unparse(asked)
        if "edition.key" in text or "edition.title" in text or _has_year(asked):
            found.append(text)
    return found


def _has_year(node: ast.AST) -> bool:
    years = {2014, 2017, 2020, 2023, 2026, 2029}
    return any(
        isinstance(part, ast.Constant) and (part.value in years or part.value in map(str, years))
        for part in ast.walk(node)
    )


@pytest.mark.parametrize("path", FILES, ids=lambda path: "/".join(path.parts[-2:]))
def test_no_rule_branches_on_an_edition(path: Path) -> None:
    assert branches(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        "if edition.key == '2023':\n    pass",
        "x = 1 if edition.key >= base else 2",
        "match edition.key:\n    case '2017':\n        pass",
        "found = year == 2026",
    ],
)
def test_the_check_itself_sees_a_branch(source: str) -> None:
    assert branches(source)
