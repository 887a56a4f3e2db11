"""Does the source keep the shape that DEVELOPERS.md promises?"""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
ROOMS = ("contractor", "panels", "jobs", "followups")
LONGEST_MODULE, LONGEST_BODY = 300, 40
# A list of pages with their words, not steps.
LISTS = {("contractor/queries/start.py", "tasks")}
# Where the outside world comes in; everything behind is told what time it is.
EDGES = re.compile(
    r"/(views|api|management|local)/|/(tasks|middleware|health|sign_in|by_link|context)\.py$"
    r"|/second_factor\.py$"  # the library that counts wrong codes keeps a clock of its own
)
ASKS_THE_CLOCK = re.compile(
    r"timezone\.(now|localdate|localtime)\(\)|datetime\.now\(|date\.today\("
)
ROWS = re.compile(r"\w+\.(objects|_default_manager)\b")
WALKERS = {"list", "tuple", "set", "sorted", "len", "bool", "iter", "any", "all", "enumerate"}
NAMELESS = {"utils", "helpers", "helper", "util", "common", "core", "misc", "signals", "manager"}
MIRRORED = {"services", "queries", "planning", "cadence"}
BINARY = {".ttf", ".woff2", ".png", ".jpg", ".ico", ".xlsx", ".pdf"}
# Written by others: licences and locks name their makers.
OTHERS = re.compile(r"(^|/)(requirements|OFL|vendor/|.*LICENSE|SHA256SUMS)")


def modules() -> list[Path]:
    return [
        path
        for room in ROOMS
        for path in sorted((ROOT / room).rglob("*.py"))
        if "migrations" not in path.parts
    ]


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def tracked() -> Iterator[tuple[str, str]]:
    """Every text file of the project that was written here."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    if listed.returncode:
        pytest.skip("this is no git checkout, so its own files cannot be told from others")
    for file in listed.stdout.splitlines():
        path = ROOT / file
        if path.suffix in BINARY or OTHERS.search(file) or not path.is_file():
            continue
        yield file, path.read_text()


def test_every_module_says_what_it_answers() -> None:
    silent = [path for path in modules() if path.read_text() and not docstring(path)]
    assert list(map(name, silent)) == []


def docstring(path: Path) -> str | None:
    return ast.get_docstring(ast.parse(path.read_text()))


def test_modules_stay_short_and_are_named_for_their_question() -> None:
    long = [path for path in modules() if len(path.read_text().splitlines()) > LONGEST_MODULE]
    assert list(map(name, long)) == []
    assert [name(path) for path in modules() if path.stem in NAMELESS] == []


def test_functions_stay_short() -> None:
    long = [
        f"{name(path)} {each.name}: {lines} lines"
        for path in modules()
        for each in ast.walk(ast.parse(path.read_text()))
        if isinstance(each, ast.FunctionDef)
        and (lines := body_lines(each)) > LONGEST_BODY
        and (name(path), each.name) not in LISTS
    ]
    assert long == []


def body_lines(function: ast.FunctionDef) -> int:
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_only_the_edges_ask_what_time_it_is() -> None:
    asking = [name(path) for path in modules() if ASKS_THE_CLOCK.search(path.read_text())]
    assert [one for one in asking if not EDGES.search(one)] == []


def test_no_list_of_rows_is_kept_from_one_request_to_the_next() -> None:
    """A query set made at import remembers its rows once it is walked; made anew by `.all()`,
    `.filter()` and the like it does not."""
    stale = [
        f"{name(path)}:{walked.lineno} {walked.id}"
        for path in modules()
        for walked in kept_rows_walked(ast.parse(path.read_text()))
    ]
    assert stale == []


def kept_rows_walked(tree: ast.Module) -> Iterator[ast.Name]:
    """The module's own query sets, where they are walked, measured or handed to a template."""
    kept = {
        target.id
        for made in tree.body
        if isinstance(made, ast.Assign) and ROWS.match(ast.unparse(made.value))
        for target in made.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        for part in walked_by(node):
            if isinstance(part, ast.Name) and part.id in kept:
                yield part


def walked_by(node: ast.AST) -> list[ast.expr]:
    if isinstance(node, ast.For | ast.comprehension):
        return [node.iter]
    if isinstance(node, ast.Starred):
        return [node.value]
    if isinstance(node, ast.Dict):
        return list(node.values)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return list(node.args) if node.func.id in WALKERS else []
    return []


def test_the_look_for_kept_rows_sees_them() -> None:
    kept = "ROWS = Site.objects.order_by('street')\n"
    for walked in ("for row in ROWS: pass", "list(ROWS)", "x = {'rows': ROWS}", "[*ROWS]",
                   "y = [row for row in ROWS]"):  # fmt: skip
        assert list(kept_rows_walked(ast.parse(kept + walked))), walked
    for fine in ("for row in ROWS.all(): pass", "fetch(ROWS, person)", "ROWS.filter(pk=1)"):
        assert not list(kept_rows_walked(ast.parse(kept + fine))), fine


def test_no_logic_hides_behind_a_signal() -> None:
    hidden = re.compile(r"\b(post_save|pre_save|post_delete|pre_delete|m2m_changed)\b")
    assert [name(path) for path in modules() if hidden.search(path.read_text())] == []


def test_tests_stand_where_their_module_stands() -> None:
    lost = []
    for path in sorted((ROOT / "tests").rglob("test_*.py")):
        place = path.relative_to(ROOT / "tests").parent
        if not MIRRORED & set(place.parts):
            continue
        asked = path.stem.removeprefix("test_")
        if not any((ROOT / place / each).exists() for each in (f"{asked}.py", asked)):
            lost.append(name(path))
    assert lost == []


def test_every_word_of_a_template_can_be_translated() -> None:
    bare = {
        name(path): words
        for path in sorted(ROOT.glob("*/templates/**/*.html"))
        if path.name != "look.html" and (words := bare_words(path.read_text()))
    }
    assert bare == {}


UNITS = {"VA", "kVA", "kWh", "kA", "ft"}


def bare_words(template: str) -> list[str]:
    """What stands in a template outside tags, comments and translations, and is a word."""
    for hidden in (
        r"{% comment %}.*?{% endcomment %}",
        r"{% blocktranslate.*?{% endblocktranslate %}",
        r"{#.*?#}",
        r"{% block (body_class|form_class) %}.*?{% endblock %}",
        r"{[%{].*?[%}]}",
        r"<style.*?</style>",
        r"<[^>]*>",
        r"&\w+;",
        r"\b[\w-]+=\"[^\"]*\"",  # the attributes that a fragment hands to a tag
    ):
        template = re.sub(hidden, " ", template, flags=re.DOTALL)
    return [word for word in re.findall(r"[A-Za-z]{2,}", template) if word not in UNITS]


@pytest.mark.parametrize(
    ("template", "words"),
    [
        ("<p>Closed</p>", ["Closed"]),
        ('<p title="x">{% translate "Closed" %}</p>', []),
        ("{% blocktranslate %}Closed{% endblocktranslate %} {{ day }}", []),
        ("{% block body_class %}narrow{% endblock %}", []),
    ],
)
def test_bare_words_are_told_from_translated_ones(template: str, words: list[str]) -> None:
    assert bare_words(template) == words


ADDRESS = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
NUMBER = re.compile(r"(?<![\d.-])\(?\d{3}\)?[-. ]\d{3}[-. ]\d{4}(?!\d)|\+1\d{10}\b")
INVENTED_NUMBER = re.compile(r"555[-. ]?01\d\d$")


def test_every_address_and_number_is_invented() -> None:
    """`.example` is reserved by RFC 2606, 555-0100 to 555-0199 for use in stories."""
    real = [
        f"{file}: {found}"
        for file, text in tracked()
        for found in [
            *(one for one in ADDRESS.findall(text) if not one.rstrip(".").endswith(".example")),
            *(one for one in NUMBER.findall(text) if not INVENTED_NUMBER.search(one)),
        ]
    ]
    assert real == []


def test_no_file_speaks_of_the_machine_it_was_written_on() -> None:
    ours = ("/" + "work/", "/" + "root/", "python" + "hosted", "pypi" + ".org")
    told = [f"{file}: {word}" for file, text in tracked() for word in ours if word in text]
    assert told == []
