"""What does a first example of each question look like, for whoever starts from one?

One file for each question, by its key, in the format of ``tests/worked_examples/README.md``. The
command prints it, and the API's description shows its inputs.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

TABLES = ("inputs", "dwelling", "building")


@dataclass(frozen=True, kw_only=True)
class Starter:
    """A first example: its file, and what a request of the API takes of it."""

    text: str
    title: str
    edition: str
    inputs: dict[str, Any]


@cache
def starter(key: str) -> Starter:
    """The first example of the question with that key."""
    text = (Path(__file__).parent / f"{key}.toml").read_text(encoding="utf-8")
    plain = tomllib.loads(text)
    inputs = next(plain[name] for name in TABLES if name in plain)
    return Starter(text=text, title=plain["title"], edition=plain["edition"], inputs=inputs)
