"""What does a plain description of a panel come to by every rule, as lines that can be kept?"""

from __future__ import annotations

import re
from collections.abc import Iterable

from panels.rules.check import plain
from panels.rules.check.checker import Report, check
from panels.rules.check.facts import Record
from panels.rules.check.outcome import Finding, Outcome
from panels.rules.edition import Edition
from panels.rules.question import Question
from panels.rules.report import assemble
from panels.rules.working import Line, Result, Section

KEY, TITLE = "check", "Check of a panel's record"
WHOLE = ("panel", "site")  # the subjects of a plain description that are no breaker
HEADINGS = {
    Outcome.FAIL: "Fails",
    Outcome.CANNOT_TELL: "Cannot tell",
    Outcome.PASS: "Passes",
    Outcome.NOT_APPLICABLE: "Does not apply",
}


def answer(record: Record, edition: Edition) -> Result:
    """How many of each outcome, then every finding: `key` of the rule, and the breaker's place."""
    report = check(record, edition)
    sections = [
        Section(title="In short", lines=tuple(_counts(report))),
        *(
            Section(title=title, lines=tuple(map(_line, report.of(outcome))))
            for outcome, title in HEADINGS.items()
        ),
    ]
    return assemble(KEY, TITLE, edition, sections, about="record")


def _counts(report: Report) -> Iterable[Line]:
    for outcome, count in report.counts.items():
        yield Line(key=outcome.value, label=HEADINGS[outcome], value=count, total=True)


def _line(finding: Finding) -> Line:
    return Line(
        key=line_key(finding),
        label=f"{finding.rule} {finding.label}: {finding.title}",
        value=finding.outcome.label,
        how=finding.sentence,
        cite=finding.cite,
        note=" ".join(filter(None, (finding.advice, finding.note))),
        confirm=finding.confirm,
    )


def line_key(finding: Finding) -> str:
    """afci_1_3 for the breaker at 1,3; the rule's key alone for the panel, home or service."""
    if finding.subject in WHOLE:
        return finding.key
    return f"{finding.key}_{re.sub(r'[^a-z0-9]+', '_', finding.subject.lower())}"


QUESTION = Question(key=KEY, title=TITLE, read=plain.read, answer=answer)
