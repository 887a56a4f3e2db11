"""How does a function of the search become machine code, and where is that kept?"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import numba

Function = TypeVar("Function", bound=Callable[..., Any])
HERE = Path(__file__).parent


def fingerprint() -> str:
    """Of every module of this package. Numba looks at the file of the outermost function only
    and would go on running what another file no longer says."""
    text = b"".join(path.read_bytes() for path in sorted(HERE.glob("*.py")))
    return hashlib.sha256(text).hexdigest()[:16]


def kept_in() -> str:
    """The folder of compiled functions; where it cannot be written numba uses the user's own."""
    return str(HERE / "__pycache__" / f"search-{fingerprint()}")


SETTINGS: Any = numba.config
OPTIONS: dict[str, Any] = {"cache": True, "_nrt": False, "error_model": "numpy"}
if not SETTINGS.CACHE_DIR:
    SETTINGS.CACHE_DIR = kept_in()


def compiled(function: Function) -> Function:
    """Compiled at its first call, once for all: every caller hands over the same types.

    Nothing compiled here makes an array, so none is counted in and out (`_nrt`): the counting took
    nine tenths of the time. Dividing by nothing gives what the processor gives, unasked.
    """
    made: Function = numba.njit(**OPTIONS)(function)
    return made
