"""How does a rule say that it has no answer, or that a description cannot be used?"""

from __future__ import annotations

from contractor.errors import Invalid


class BadDescription(Invalid):
    """What was described cannot be calculated: names the field and says what to do.

    `field` is a path such as ``loads[2].nameplate``.
    """

    def __init__(self, field: str, sentence: str) -> None:
        super().__init__("bad_description", f"{field}: {sentence}", fields={field: sentence})
        self.field = field


class NotCovered(Invalid):
    """The rule gives no value here; it is refused, never stretched. `cite` says which rule."""

    def __init__(self, sentence: str, *, cite: str) -> None:
        super().__init__("not_covered", f"{sentence} ({cite})")
        self.cite = cite


class UnknownEdition(Invalid):
    """It is not known which edition applies; someone has to say so."""

    def __init__(self, sentence: str) -> None:
        super().__init__("unknown_edition", sentence)
