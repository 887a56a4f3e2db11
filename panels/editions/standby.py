"""What each edition says about optional standby systems, with its section and mark."""

from __future__ import annotations

from dataclasses import replace

from panels.editions.marks import read_2017, remembered, summarised
from panels.rules.standby.values import Standby

SUMMARY = "summaries of the 2023 changes"

STANDBY_2017 = Standby(
    manual=read_2017(1.0, "702.4(B)(1)"),
    automatic=read_2017(1.0, "702.4(B)(2)(a)"),
    managed=read_2017(1.0, "702.4(B)(2)(b)"),
    transfer=read_2017(
        "no interconnection",
        "702.5",
        "It must keep standby and utility from being connected together by accident.",
    ),
    sign=read_2017("required", "702.7", "It names each standby source and where it is."),
    conductor_factor=remembered(1.15, "445.13"),
)

STANDBY_2020 = replace(
    STANDBY_2017,
    manual=remembered(1.0, "702.4(B)(1)"),
    automatic=remembered(1.0, "702.4(B)(2)(a)"),
    managed=remembered(1.0, "702.4(B)(2)(b)"),
    transfer=remembered(STANDBY_2017.transfer.value, "702.5", STANDBY_2017.transfer.note),
    sign=remembered(STANDBY_2017.sign.value, "702.7", STANDBY_2017.sign.note),
)

STANDBY_2023 = replace(
    STANDBY_2020,
    managed=summarised(
        1.0,
        "702.4(B), Article 750",
        in_=SUMMARY,
        note="Refers to energy management by Article 750.",
    ),
)
