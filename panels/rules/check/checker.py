"""What does checking a record by every rule of an edition come to?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from panels.rules.cautions import cautions
from panels.rules.check import (
    connected,
    directory,
    fault,
    multiwire,
    protection,
    required,
    shock,
    subjects,
    torque,
)
from panels.rules.check.facts import Record
from panels.rules.check.outcome import Finding, Outcome, Rule, Subject, Verdict, does_not_apply
from panels.rules.edition import Edition
from panels.rules.sourced import Sourced

RULES: tuple[Rule[Any], ...] = (
    *directory.RULES, *protection.RULES, *required.RULES, *multiwire.RULES, *shock.RULES,
    *fault.RULES, *connected.RULES, *torque.RULES,
)  # fmt: skip
BY_KEY: dict[str, Rule[Any]] = {rule.key: rule for rule in RULES}
NONE_HERE = does_not_apply("There is nothing of the kind here.")
UNSOURCED = "common practice"  # begins the section of a rule that no book holds


@dataclass(frozen=True, kw_only=True)
class Report:
    """Every finding about one record by one edition, failures first."""

    edition: str
    edition_title: str
    basis: str
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...]
    amendments: tuple[str, ...]

    def of(self, *outcomes: Outcome) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.outcome in outcomes)

    @property
    def counts(self) -> dict[Outcome, int]:
        counted = Counter(finding.outcome for finding in self.findings)
        return {outcome: counted[outcome] for outcome in Outcome}

    @property
    def advice(self) -> tuple[Finding, ...]:
        """What passes and could still be better."""
        return tuple(finding for finding in self.findings if finding.advice)


def check(record: Record, edition: Edition) -> Report:
    """Every rule on everything it judges. The order of breakers changes nothing."""
    found = [finding for rule in RULES for finding in findings(rule, record, edition)]
    order = {outcome: place for place, outcome in enumerate(Outcome)}
    return Report(
        edition=edition.key,
        edition_title=edition.title,
        basis=edition.basis,
        findings=tuple(sorted(found, key=lambda one: order[one.outcome])),
        cautions=cautions("planning", "record"),
        amendments=edition.amendments,
    )


def findings(rule: Rule[Any], record: Record, edition: Edition) -> Iterable[Finding]:
    """One for each thing the rule judges; where there is none, one that says so."""
    found = sorted(rule.about(record), key=_as_numbered)
    section = rule.section(edition)
    if not found:
        yield _finding(rule, subjects.panel(record)[0], NONE_HERE, section, edition)
    for subject in found:
        verdict = (
            rule.judge(subject.item, record, edition)
            if section.value
            else does_not_apply(f"{edition.title} has no such rule.")
        )
        yield _finding(rule, subject, verdict, section, edition)


def _finding(
    rule: Rule[Any], subject: Subject[Any], verdict: Verdict, section: Sourced[bool],
    edition: Edition,
) -> Finding:  # fmt: skip
    by = [section, *verdict.by]
    cites = "; ".join(dict.fromkeys(source.cite for source in by))
    return Finding(
        key=rule.key,
        rule=rule.id,
        title=rule.title,
        subject=subject.id,
        label=subject.label,
        outcome=verdict.outcome,
        sentence=verdict.sentence,
        cite=cites if cites.startswith(UNSOURCED) else f"{edition.title}, {cites}",
        place=verdict.place or subject.place,
        missing=verdict.missing,
        advice=verdict.advice,
        confirm=_joined(by, lambda source: source.confirm),
        note=_joined(by, lambda source: source.note),
    )


def _joined(sources: Iterable[Sourced[Any]], said: Callable[[Sourced[Any]], str]) -> str:
    return " ".join(dict.fromkeys(filter(None, map(said, sources))))


def _as_numbered(subject: Subject[Any]) -> tuple[int, str, str]:
    digits = "".join(sign for sign in subject.label.split(",")[0].split(" ")[0] if sign.isdigit())
    return int(digits or 0), subject.label, subject.id
