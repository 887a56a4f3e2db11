"""The words jobs are told in, and which state may follow which."""

from __future__ import annotations

import enum


class Word(enum.StrEnum):
    """A choice with a label for people."""

    @property
    def label(self) -> str:
        return self.value.replace("_", " ")


class HoldKind(Word):
    PERMIT = "permit"
    MATERIAL = "material"
    UTILITY = "utility"
    INSPECTION = "inspection"
    CUSTOMER = "customer"
    OTHER = "other"

    @property
    def label(self) -> str:
        return {
            "permit": "permit issued",
            "material": "material arrived",
            "utility": "utility appointment",
            "inspection": "inspection passed",
            "customer": "customer’s word",
            "other": "something else",
        }[self.value]


class CloseOutKind(Word):
    CHECK = "check"
    TEXT = "text"
    PHOTO = "photo"
    VOLTAGE = "voltage"
    INSULATION = "insulation"
    TORQUE = "torque"
    DIRECTORY = "directory"
    SIGNATURE = "signature"

    @property
    def label(self) -> str:
        return {
            "check": "a tick",
            "text": "a note",
            "photo": "a photo",
            "voltage": "voltage readings",
            "insulation": "insulation resistance",
            "torque": "torque readings",
            "directory": "a directory issued",
            "signature": "the customer’s signature",
        }[self.value]


class JobState(Word):
    OPEN = "open"
    CLOSED = "closed"
    CANCELLED = "cancelled"


class VisitState(Word):
    UNPLANNED = "unplanned"
    PLANNED = "planned"
    UNDER_WAY = "under_way"
    DONE = "done"
    CANCELLED = "cancelled"


class PermitState(Word):
    NEEDED = "needed"
    APPLIED = "applied"
    ISSUED = "issued"
    FINALED = "finaled"
    CANCELLED = "cancelled"


class InspectionState(Word):
    DUE = "due"
    REQUESTED = "requested"
    PASSED = "passed"
    FAILED = "failed"
    CANCELLED = "cancelled"


MOVES: dict[VisitState, set[VisitState]] = {
    VisitState.UNPLANNED: {VisitState.PLANNED, VisitState.CANCELLED},
    VisitState.PLANNED: {
        VisitState.PLANNED,
        VisitState.UNPLANNED,
        VisitState.UNDER_WAY,
        VisitState.DONE,
        VisitState.CANCELLED,
    },
    VisitState.UNDER_WAY: {VisitState.DONE, VisitState.PLANNED},
    VisitState.DONE: {VisitState.UNDER_WAY},
    VisitState.CANCELLED: {VisitState.UNPLANNED},
}
