"""Works published examples from TOML files and prints ours beside the printed answers."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from panels.rules.errors import BadDescription, NotCovered, UnknownEdition
from panels.rules.quantities import show
from panels.rules.working import Result
from panels.worked_examples import Comparison, Example, read_file, work


class Command(BaseCommand):
    help = "Work load examples from TOML files: answer, printed answer, difference, every line."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("files", nargs="+", type=Path, metavar="FILE.toml")
        parser.add_argument("--brief", action="store_true", help="leave the lines out")

    def handle(self, *, files: list[Path], brief: bool, **options: Any) -> None:
        bad = [path for path in files if not self.work(path, brief=brief)]
        if bad:
            names = ", ".join(str(path) for path in bad)
            raise CommandError(f"{len(bad)} of {len(files)} do not come out as printed: {names}")
        self.stdout.write(f"{len(files)} of {len(files)} come out as printed.")

    def work(self, path: Path, *, brief: bool) -> bool:
        try:
            example = read_file(path)
            result, comparisons = work(example)
        except (BadDescription, NotCovered, UnknownEdition) as fault:
            self.stderr.write(f"{path}: {fault.sentence}")
            return False
        self.head(path, example, result)
        if not brief:
            self.lines(result)
        for comparison in comparisons:
            self.answer(comparison)
        self.stdout.write("")
        return all(comparison.fits for comparison in comparisons)

    def head(self, path: Path, example: Example, result: Result) -> None:
        self.stdout.write(f"{example.title}  ({path})")
        self.stdout.write(f"  {result.method_title}, {result.edition_title}")
        self.stdout.write(f"  Source: {example.source} [{example.mark}]")
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
        self.stdout.write(
            f"  {answer.line}: ours {show(comparison.ours)}, printed {show(answer.value)},"
            f" difference {comparison.difference:+.{decimals}f} (within {answer.within:g}):"
            f" {'as printed' if comparison.fits else 'OFF'}"
        )
        if answer.note:
            self.stdout.write(f"    {answer.note}")
