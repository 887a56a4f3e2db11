"""The panels' rows."""

from panels.models.panels import Circuit, Panel, Source
from panels.models.proof import DirectoryRevision, Reading

__all__ = ["Circuit", "DirectoryRevision", "Panel", "Reading", "Source"]
