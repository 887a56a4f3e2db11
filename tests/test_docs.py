"""Do README.md and DEVELOPERS.md say what is so: commands, files, environment variables?"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.management import get_commands

ROOT = Path(__file__).resolve().parent.parent
DOCS = [path for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md") if path.exists()]
README = (ROOT / "README.md").read_text()
CODE = sorted(
    path
    for room in ("contractor", "panels", "jobs", "followups")
    for path in (ROOT / room).rglob("*.py")
)
READ = re.compile(
    r"""\benv(?:\.\w+)?\(\s*"([A-Z_]+)"|(?:environ(?:\.get)?|getenv)[\[(]\s*"([A-Z_]+)\""""
)
# Set by the local run for the processes it starts, or by the machine; nobody sets them by hand.
INNER = {"DJANGO_SETTINGS_MODULE", "PATH", "LANG", "HOME", "PYTHON", "CI"}
NOT_VARIABLES = {"GET", "POST", "PUT", "PATCH", "DELETE", "CSV", "XLSX", "PDF", "API", "README"}


def variables_read() -> set[str]:
    found = {
        name
        for path in CODE
        for groups in READ.findall(path.read_text())
        for name in groups
        if name
    }
    return found - INNER


def variables_told() -> set[str]:
    rows = [line.split("|")[1] for line in README.splitlines() if line.startswith("| `")]
    return {name for row in rows for name in re.findall(r"`([A-Z_]+)`", row)} | {
        name for name in re.findall(r"`([A-Z_]{4,})`", README) if name not in NOT_VARIABLES
    }


def test_every_variable_that_is_read_is_told_of_and_the_other_way_round() -> None:
    read, told = variables_read(), variables_told()
    assert read - told == set(), "say in README.md what it is"
    assert told - read == set(), "nothing reads it"


@pytest.mark.parametrize("doc", DOCS, ids=lambda path: path.name)
def test_make_knows_every_target_that_is_named(doc: Path) -> None:
    targets = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(), re.MULTILINE))
    named = set(re.findall(r"\bmake ([a-z]+)", "\n".join(code_of(doc))))
    assert named
    assert named - targets == set()


@pytest.mark.parametrize("doc", DOCS, ids=lambda path: path.name)
def test_every_linked_file_is_there(doc: Path) -> None:
    links = re.findall(r"\]\((?!https?:|#)([^)#]+)", doc.read_text())
    lost = [link for link in links if not (ROOT / link).exists()]
    assert lost == []


@pytest.mark.parametrize("doc", DOCS, ids=lambda path: path.name)
def test_every_path_that_is_named_is_there(doc: Path) -> None:
    """Words in backticks that look like a file or folder of the project."""
    known = {path.name for path in ROOT.iterdir()}
    named = [
        word
        for word in re.findall(r"`([\w./-]+/[\w./-]*)`", doc.read_text())
        if word.split("/")[0] in known and "<" not in word
    ]
    lost = [word for word in named if not (ROOT / word).exists() and not made_later(word)]
    assert lost == []


def made_later(word: str) -> bool:
    """What a run makes, and NNNN standing for any year."""
    return word.startswith((".local", ".venv")) or "NNNN" in word


@pytest.mark.parametrize("doc", DOCS, ids=lambda path: path.name)
def test_every_management_command_that_is_named_exists(doc: Path) -> None:
    named = set(re.findall(r"manage\.py (\w+)", doc.read_text()))
    assert named - set(get_commands()) == set()


def test_every_command_of_ours_is_told_of() -> None:
    told = " ".join(path.read_text() for path in DOCS)
    ours = [path.stem for path in ROOT.glob("*/management/commands/[a-z]*.py")]
    assert [name for name in ours if name not in told] == []


def test_the_sign_ins_that_are_printed_are_those_of_the_demo() -> None:
    printed = (ROOT / "fixtures" / "sign-ins.txt").read_text()
    firm = (ROOT / "fixtures" / "firm.toml").read_text()
    for name in re.findall(r"(\w+@tallowcreek\.example)", printed):
        assert name in firm


def code_of(doc: Path) -> list[str]:
    """What stands in code: between backticks, and in fenced blocks."""
    text = doc.read_text()
    return re.findall(r"```.*?```", text, re.DOTALL) + re.findall(r"`[^`\n]+`", text)
