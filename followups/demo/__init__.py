"""The invented firm of Harrow Mills, loaded from `fixtures/` through the services people use."""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path
from typing import Any

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
PASSWORD = "copper kettle 42"  # noqa: S105 - printed at every start of the demo


def table(name: str) -> Any:
    """One TOML file of the fixtures."""
    return tomllib.loads((FIXTURES / name).read_text())


def rows(name: str) -> list[dict[str, str]]:
    """One CSV file of the fixtures, each row by its header."""
    with (FIXTURES / name).open(newline="") as file:
        return list(csv.DictReader(file))
