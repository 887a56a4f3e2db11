"""What is still missing before this job can be closed, and what should be known besides?"""

from __future__ import annotations

import enum
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from jobs.planning.words import (
    CloseOutKind,
    InspectionState,
    PermitState,
    VisitState,
    gettext_noop,
)

MEASURED = frozenset({CloseOutKind.VOLTAGE, CloseOutKind.INSULATION, CloseOutKind.TORQUE})


class About(enum.StrEnum):
    """What a gap is about; programs and tests name it by this."""

    LINE = "line"
    VISIT = "visit"
    DIRECTORY = "directory"
    INSPECTION = "inspection"
    PERMIT = "permit"
    READING = "reading"


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of the close-out list and what has been given for it so far."""

    key: str
    label: str
    asks: CloseOutKind
    required: bool = True
    does_not_apply: bool = False
    note: str = ""
    ticked: bool = False
    photos: int = 0
    readings: int = 0


@dataclass(frozen=True, kw_only=True)
class PanelStanding:
    """A panel of the site: the directory last issued, and whether the record has left it behind.

    `pending` means its record differs from that directory, or was written on this job and has
    never been issued.
    """

    key: str
    name: str
    revision: int | None = None
    pending: bool = False


@dataclass(frozen=True, kw_only=True)
class Step:
    """A visit, an inspection or a permit: its name, its state and that state as people say it."""

    key: str
    name: str
    state: str
    state_name: str


@dataclass(frozen=True, kw_only=True)
class Case:
    """All that is known of a job when it is to be closed."""

    lines: tuple[Line, ...] = ()
    panels: tuple[PanelStanding, ...] = ()
    visits: tuple[Step, ...] = ()
    inspections: tuple[Step, ...] = ()
    permits: tuple[Step, ...] = ()
    signed: bool = False
    outside: tuple[str, ...] = ()  # readings outside their published value, each a sentence


@dataclass(frozen=True, kw_only=True)
class Gap:
    """One thing missing or worth knowing: `words` with names in braces, `values` fills them;
    `key` is the row it is about."""

    about: About
    words: str
    values: Mapping[str, object] = field(default_factory=dict)
    key: str = ""

    @property
    def sentence(self) -> str:
        return self.words.format(**self.values)


def missing(case: Case) -> list[Gap]:
    """Everything that must be there before the job can be closed, in the order of the work.

    Common practice, no source: what the firm's list requires, visits over, and a directory on
    the door that says what the panel is.
    """
    return [*_visits(case), *_lines(case), *(_pending(case) if _issue_expected(case) else ())]


def notices(case: Case) -> list[Gap]:
    """What does not stand in the way but whoever closes the job should know: a walk-through
    often comes before the final inspection is written down and the permit finaled."""
    return [
        *(Gap(about=About.READING, words="{text}", values={"text": text}) for text in case.outside),
        *_inspections(case),
        *_permits(case),
        *(() if _issue_expected(case) else _pending(case)),
    ]


def answered(line: Line, case: Case) -> bool:
    """Whether the line has what it asks for; what does not apply asks for nothing."""
    return line.does_not_apply or ANSWERED[line.asks](line, case)


ANSWERED: dict[CloseOutKind, Callable[[Line, Case], bool]] = {
    CloseOutKind.CHECK: lambda line, _case: line.ticked,
    CloseOutKind.TEXT: lambda line, _case: bool(line.note.strip()),
    CloseOutKind.PHOTO: lambda line, _case: line.photos > 0,
    CloseOutKind.VOLTAGE: lambda line, _case: line.readings > 0,
    CloseOutKind.INSULATION: lambda line, _case: line.readings > 0,
    CloseOutKind.TORQUE: lambda line, _case: line.readings > 0,
    CloseOutKind.DIRECTORY: lambda _line, case: (
        any(panel.revision is not None for panel in case.panels)
        and not any(panel.pending for panel in case.panels)
    ),
    CloseOutKind.SIGNATURE: lambda _line, case: case.signed,
}

LACKS = {
    CloseOutKind.CHECK: gettext_noop("“{line}” is not ticked yet."),
    CloseOutKind.TEXT: gettext_noop("“{line}” has no words yet."),
    CloseOutKind.PHOTO: gettext_noop("“{line}” has no photo yet."),
    CloseOutKind.VOLTAGE: gettext_noop("“{line}” has no voltage reading yet."),
    CloseOutKind.INSULATION: gettext_noop("“{line}” has no insulation reading yet."),
    CloseOutKind.TORQUE: gettext_noop("“{line}” has no torque reading yet."),
    CloseOutKind.DIRECTORY: gettext_noop("“{line}”: no directory of this site has been issued."),
    CloseOutKind.SIGNATURE: gettext_noop(
        "“{line}”: nobody has signed, and no reason is written down."
    ),
}

NOT_OVER = {
    VisitState.UNPLANNED: gettext_noop(
        "{visit} has not been planned. If it is not needed, ask the office to cancel it."
    ),
    VisitState.PLANNED: gettext_noop(
        "{visit} has not taken place. If it is not needed, ask the office to cancel it."
    ),
    VisitState.UNDER_WAY: gettext_noop(
        "{visit} is still under way. Say on its page that you left."
    ),
}


def _visits(case: Case) -> Iterator[Gap]:
    for visit in case.visits:
        words = NOT_OVER.get(VisitState(visit.state))
        if words:
            yield Gap(about=About.VISIT, words=words, values={"visit": visit.name}, key=visit.key)


def _lines(case: Case) -> Iterator[Gap]:
    for line in case.lines:
        if not line.required or answered(line, case) or _said_of_panels(line, case):
            continue
        yield Gap(
            about=About.LINE, words=LACKS[line.asks], values={"line": line.label}, key=line.key
        )


def _said_of_panels(line: Line, case: Case) -> bool:
    """A pending directory is named by its panel, not once more by its line."""
    return line.asks is CloseOutKind.DIRECTORY and any(panel.pending for panel in case.panels)


def _issue_expected(case: Case) -> bool:
    """Unless someone has said, with a reason, that the directory does not apply here."""
    return not any(
        line.asks is CloseOutKind.DIRECTORY and line.does_not_apply for line in case.lines
    )


def _pending(case: Case) -> Iterator[Gap]:
    for panel in case.panels:
        if panel.pending:
            yield Gap(
                about=About.DIRECTORY,
                words=gettext_noop("{panel} has no directory yet. Issue it.")
                if panel.revision is None
                else gettext_noop(
                    "{panel} has changed since revision {revision} of its directory. "
                    "Issue the next one."
                ),
                values={"panel": panel.name, "revision": panel.revision},
                key=panel.key,
            )


def _inspections(case: Case) -> Iterator[Gap]:
    for inspection in case.inspections:
        if inspection.state not in (InspectionState.PASSED, InspectionState.CANCELLED):
            yield Gap(
                about=About.INSPECTION,
                words=gettext_noop("Inspection {inspection} is {state}, not passed."),
                values={"inspection": inspection.name, "state": inspection.state_name},
                key=inspection.key,
            )


def _permits(case: Case) -> Iterator[Gap]:
    for permit in case.permits:
        if permit.state not in (PermitState.FINALED, PermitState.CANCELLED):
            yield Gap(
                about=About.PERMIT,
                words=gettext_noop("The permit is {state}, not finaled. Number: {number}.")
                if permit.name
                else gettext_noop("The permit is {state}, not finaled."),
                values={"number": permit.name, "state": permit.state_name},
                key=permit.key,
            )
