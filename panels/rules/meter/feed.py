"""What does a Green Button file (NAESB ESPI in an Atom feed) say, read as a stream?

The parser calls `Feed` element by element and no tree is built, so a year by the quarter hour
costs the memory of its numbers. Document types and entities are refused unread (defusedxml).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, BinaryIO
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from panels.rules.meter.catalogue import UNKNOWN_QUALITY
from panels.rules.meter.findings import Unreadable
from panels.rules.meter.rows import Rows

ATOM, ESPI = "{http://www.w3.org/2005/Atom}", "{http://naesb.org/espi}"
CHUNK = 1 << 16
ENTRY, LINK, TITLE = ATOM + "entry", ATOM + "link", ATOM + "title"
READING, BLOCK = ESPI + "IntervalReading", ESPI + "IntervalBlock"
IN_READING = {ESPI + name: name for name in ("start", "duration", "value", "quality")}
DESCRIBED = {
    ESPI + name: name
    for name in (
        "UsagePoint", "MeterReading", "ReadingType", "LocalTimeParameters", "UsageSummary",
        "ElectricPowerUsageSummary",
    )
}  # fmt: skip


@dataclass
class Entry:
    """One entry of the feed: its links, what it describes, and which rows it holds."""

    title: str = ""
    own: str = ""
    up: str = ""
    related: list[str] = field(default_factory=list)
    what: str = ""
    told: dict[str, str] = field(default_factory=dict)
    spans: list[tuple[int, int]] = field(default_factory=list)


class Feed:
    """Takes the parser's events; afterwards `rows`, `entries` and `counts` hold the file."""

    def __init__(self) -> None:
        self.rows = Rows()
        self.entries: list[Entry] = []
        self.counts: Counter[str] = Counter()
        self.root = ""
        self._entry = Entry()
        self._text: list[str] = []
        self._reading: dict[str, str] | None = None
        self._first_of_block = 0
        self._block: dict[str, str] | None = None
        self.data = self._text.append

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        self._text.clear()
        if self._reading is not None:
            return
        if tag == READING:
            self._reading = {}
        elif tag == LINK:
            self._link(attributes.get("rel", ""), attributes.get("href", ""))
        elif tag == BLOCK:
            self._first_of_block, self._block = len(self.rows), {}
        elif tag == ENTRY:
            self._entry = Entry()
        elif tag in DESCRIBED:
            self._entry.what, self._entry.told = DESCRIBED[tag], {}
        self.root = self.root or tag

    def end(self, tag: str) -> None:
        if self._reading is not None:
            if tag == READING:
                self._take_reading(self._reading)
            elif tag in IN_READING:
                self._reading[IN_READING[tag]] = "".join(self._text)
        elif tag == BLOCK:
            self._close_block()
        elif self._block is not None:
            self._block[tag] = "".join(self._text)
        elif tag == ENTRY:
            self._keep_entry()
        elif tag == TITLE:
            self._entry.title = "".join(self._text).strip()
        elif self._entry.what and tag.startswith(ESPI):
            self._entry.told.setdefault(tag[len(ESPI) :], "".join(self._text).strip())
        elif tag.endswith("}IntervalReading"):
            self.counts[tag] += 1
        self._text.clear()

    def close(self) -> Feed:
        self._keep_entry()
        return self

    def _link(self, rel: str, href: str) -> None:
        if rel == "self":
            self._entry.own = href
        elif rel == "up":
            self._entry.up = href
        elif rel == "related":
            self._entry.related.append(href)

    def _take_reading(self, told: dict[str, str]) -> None:
        self._reading = None
        self.rows.add(
            int(told.get("start") or -1),
            int(told.get("duration") or 0),
            int(told["value"]),
            _quality(told.get("quality")),
        )

    def _close_block(self) -> None:
        """Readings without times of their own share the block's evenly, in their order."""
        first, end, told = self._first_of_block, len(self.rows), self._block or {}
        self._block = None
        self._entry.spans.append((first, end))
        start, whole = told.get(ESPI + "start"), int(told.get(ESPI + "duration") or 0)
        if start is None or first == end or any(one >= 0 for one in self.rows.starts[first:end]):
            return
        for index in range(first, end):
            self.rows.seconds[index] = whole // (end - first)
            self.rows.starts[index] = int(start) + (index - first) * self.rows.seconds[index]

    def _keep_entry(self) -> None:
        if self._entry.what or self._entry.spans:
            self.entries.append(self._entry)
            self.counts[self._entry.what] += 1
        self._entry = Entry()


def _quality(text: str | None) -> int:
    code = int(text) if text else UNKNOWN_QUALITY
    return code if 0 <= code < UNKNOWN_QUALITY else UNKNOWN_QUALITY


def read_feed(file: BinaryIO) -> Feed:
    """The feed of a file open for reading bytes. Raises `Unreadable`, which says what to do."""
    feed = Feed()
    parser: Any = DefusedXMLParser(target=feed, forbid_dtd=True)
    try:
        while chunk := file.read(CHUNK):
            parser.feed(chunk)
        parser.close()
    except DefusedXmlException as bomb:
        raise Unreadable(
            "entities",
            "The file defines entities or a document type of its own, which no meter data needs"
            " and which can harm. Nothing was read. Ask the utility for the file anew.",
        ) from bomb
    except ParseError as fault:
        raise _broken(fault) from fault
    except (KeyError, ValueError, OverflowError) as fault:
        raise Unreadable(
            "bad_number",
            f"Line {parser.parser.CurrentLineNumber:,}: a reading has no whole number where its"
            " start, length, value or quality should be. Ask the utility for the file anew.",
        ) from fault
    except LookupError as fault:
        told = f"The file names an encoding not known here ({fault})."
        raise Unreadable("encoding", f"{told} Ask the utility for it in UTF-8.") from fault
    return feed


def _broken(fault: ParseError) -> Unreadable:
    line = fault.position[0]
    return Unreadable(
        "broken_xml",
        f"Line {line:,}: the XML breaks off or is damaged there ({fault}). The download may be"
        " incomplete, or was saved in another encoding: download it again and choose it unchanged.",
    )
