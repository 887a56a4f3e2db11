"""How the program says no: one error that carries a code and a sentence someone can act on."""

from __future__ import annotations

from collections.abc import Mapping


class Refused(Exception):
    """An action was refused and nothing was written.

    `code` is for programs and tests, `sentence` for the person who asked. `fields` ties
    sentences to form fields where the fault lies in one. `can_override` says that a person
    with the right may insist, giving a reason that is kept.
    """

    status = 409

    def __init__(
        self,
        code: str,
        sentence: str,
        *,
        fields: Mapping[str, str] | None = None,
        can_override: bool = False,
    ) -> None:
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence
        self.fields = dict(fields or {})
        self.can_override = can_override


class Invalid(Refused):
    """What was typed cannot be used as it stands."""

    status = 422


class Stale(Refused):
    """The record changed since the revision this edit was based on (RFC 9110, 412)."""

    status = 412

    def __init__(self, sentence: str, *, current_rev: int) -> None:
        super().__init__("stale", sentence)
        self.current_rev = current_rev


class RevisionMissing(Refused):
    """The edit does not say which revision it was based on (RFC 6585, 428)."""

    status = 428


class Several(Refused):
    """More than one thing stands in the way; each is named."""

    def __init__(self, reasons: list[Refused]) -> None:
        super().__init__(
            "several" if len(reasons) > 1 else reasons[0].code,
            " ".join(reason.sentence for reason in reasons),
            can_override=all(reason.can_override for reason in reasons),
        )
        self.reasons = reasons
