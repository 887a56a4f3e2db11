"""How long does one conductor take to choose? Run: python -m tests.bench.bench_wire"""

from __future__ import annotations

import sys
from functools import partial
from typing import Any

from panels.editions import edition
from panels.rules.questions import answer
from tests.bench.bench_load import RUNS, milliseconds

RUN = {"length": "180 ft", "volts": "240 V", "drop_limit": 3}
HOT = {"insulation": "90 C", "terminal": "75 C", "ambient": "104 F", "bundled": 6}
ASKED: dict[str, tuple[str, dict[str, Any]]] = {
    "small": ("conductor", {"metal": "cu", "noncontinuous": "16 A"}),
    "long, hot": ("conductor", {"metal": "cu", "continuous": "48 A", **RUN, **HOT}),
    "whole dwelling": ("conductor", {"metal": "al", "device": "400 A", "whole_dwelling": True}),
    "one size": ("ampacity", {"metal": "cu", "size": "6", "device": "60 A", **HOT}),
}


def main() -> None:
    sys.stdout.write(f"Median milliseconds of {RUNS} runs, from the plain inputs to the lines\n")
    by = edition("2023")
    for name, (question, inputs) in ASKED.items():
        taken = milliseconds(partial(answer, question, inputs, by))
        sys.stdout.write(f"{name:<16}{taken:.2f}\n")


if __name__ == "__main__":
    main()
