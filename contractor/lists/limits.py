"""How large may a list be before it is refused unread?"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Of the file, of what it holds once unpacked, and of the table in it."""

    bytes: int = 5 * 1024 * 1024
    unpacked_bytes: int = 64 * 1024 * 1024
    parts: int = 500
    rows: int = 5000
    columns: int = 100

    @property
    def last_row(self) -> int:
        """Blank rows between filled ones are forgiven, but not without end."""
        return 2 * self.rows + 100
