"""Works published examples from TOML files and prints ours beside the printed answers."""

from __future__ import annotations

import math
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription, NotCovered, UnknownEdition
from panels.rules.fields import asked_for
from panels.rules.quantities import show
from panels.rules.questions import QUESTIONS, question
from panels.rules.working import Result
from panels.starters import starter
from panels.worked_examples import Answer, Comparison, Example, compare, read_file

REFUSALS = (BadDescription, NotCovered, UnknownEdition)


class Command(BaseCommand):
    help = (
        "Work examples from TOML files, or from folders of them, and print every line of the"
        " calculation, then each answer: ours, the printed one and the difference. Ends with an"
        " error where one is off. The format is in tests/worked_examples/README.md;"
        " --methods lists what can be asked, --about METHOD prints a first example to copy."
    )
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("files", nargs="*", type=Path, metavar="FILE.toml")
        parser.add_argument("--brief", action="store_true", help="leave the lines out")
        parser.add_argument("--methods", action="store_true", help="list the methods there are")
        parser.add_argument(
            "--about", metavar="METHOD", help="its fields, a first example, and its result's lines"
        )

    def handle(
        self, *, files: list[Path], brief: bool, methods: bool, about: str | None, **options: Any
    ) -> None:
        if methods:
            self.methods()
        if about:
            self.about(about)
        if not files:
            if methods or about:
                return
            raise CommandError("Name a file, or see --methods and --about METHOD.")
        found = [path for named in files for path in _files(named)]
        bad = [path for path in found if not self.work(path, brief=brief)]
        if bad:
            names = ", ".join(str(path) for path in bad)
            raise CommandError(f"{len(bad)} of {len(found)} do not come out as printed: {names}")
        self.stdout.write(f"{len(found)} of {len(found)} come out as printed.")

    def methods(self) -> None:
        for key, asked in QUESTIONS.items():
            self.stdout.write(f"{key:<22} {asked.title}")
        self.stdout.write(f"\nEditions: {', '.join(EDITIONS)}. More: --about METHOD")

    def about(self, key: str) -> None:
        """Everything from the registry and the first example; nothing is listed by hand."""
        try:
            asked, first = question(key), starter(question(key).key)
        except BadDescription as fault:
            raise CommandError(fault.sentence) from None
        with asked_for() as tables:
            inputs = asked.read(first.inputs)
        self.stdout.write(f"{asked.key}: {asked.title}\n\nFields, by table of the first example:")
        for path, names in sorted(tables.items()):
            self.stdout.write(f"  {path or 'inputs'}: {', '.join(sorted(names))}")
        self.stdout.write(f"\nA first example:\n\n{first.text}\nLines of its result:")
        self.lines(asked.answer(inputs, edition(first.edition)))

    def work(self, path: Path, *, brief: bool) -> bool:
        try:
            example = read_file(path)
            result = example.question.answer(example.inputs, example.edition)
        except REFUSALS as fault:
            named = "" if fault.sentence.startswith(str(path)) else f"{path}: "
            self.stderr.write(f"{named}{fault.sentence}")
            return False
        self.head(path, example, result)
        if not brief:
            self.lines(result)
        fits = [self.compared(path, answer, result) for answer in example.answers]
        self.stdout.write("")
        return all(fits)

    def compared(self, path: Path, answer: Answer, result: Result) -> bool:
        try:
            comparison = compare(answer, result)
        except BadDescription as fault:
            self.stderr.write(f"{path}: {fault.sentence}")
            return False
        self.answer(comparison)
        return comparison.fits

    def head(self, path: Path, example: Example, result: Result) -> None:
        self.stdout.write(f"{example.title}  ({path})")
        self.stdout.write(f"  {result.method_title}, {result.edition_title}")
        mark = f" [{example.mark}]" if example.mark else ""
        self.stdout.write(f"  Source: {example.source}{mark}")
        self.stdout.write(f"  {result.basis}")
        if example.note:
            self.stdout.write(f"  {example.note}")
        for told in result.amendments:
            self.stdout.write(f"  Amended: {told}")

    def lines(self, result: Result) -> None:
        for section in result.sections:
            self.stdout.write(f"  {section.title}")
            for line in section.lines:
                cite = f" [{line.cite}]" if line.cite else ""
                self.stdout.write(f"    {line.key:<22} {line.shown:>14}  {line.label}{cite}")
                for more in filter(None, (line.how, line.note, line.confirm)):
                    self.stdout.write(f"    {'':<22} {'':>14}    {more}")

    def answer(self, comparison: Comparison) -> None:
        answer = comparison.answer
        decimals = 2 if not answer.within or answer.within >= 0.005 else 5
        told = f"difference {comparison.difference:+.{decimals}f} (within {answer.within:g})"
        if math.isnan(comparison.difference):
            told = "which is not the same"
        self.stdout.write(
            f"  {answer.line}: ours {show(comparison.ours)}, printed {show(answer.value)},"
            f" {told}:"
            f" {'as printed' if comparison.fits else 'OFF'}"
        )
        if answer.note:
            self.stdout.write(f"    {answer.note}")


def _files(named: Path) -> list[Path]:
    """The file itself, or the examples in a folder."""
    return sorted(named.glob("*.toml")) if named.is_dir() else [named]
