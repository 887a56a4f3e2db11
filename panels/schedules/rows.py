"""What does each line of the sheet say of which breaker?

Two-column sheets say two breakers a line. The lines below a breaker of several poles say nothing
new: they are blank, or ditto marks, or repeat it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.lists import Line
from panels.rules.layout import Frame, LayoutError
from panels.rules.places import Place, read_place
from panels.schedules import cells
from panels.schedules.columns import HEADERS, Header, header_of

Reader = Callable[[str], dict[str, Any]]


@dataclass(frozen=True)
class Problem:
    """Why a line cannot be taken in: the line, the column at fault, a sentence."""

    line: int
    header: str
    sentence: str


@dataclass(frozen=True, kw_only=True)
class Said:
    """One breaker as the sheet has it: only what it says. `values` are columns of a circuit.

    A kind no cell tells is guessed from the name: good enough for a breaker not on record yet.
    """

    line: int
    place: Place
    values: dict[str, Any] = field(default_factory=dict)
    feeds: str = ""
    kind_is_guessed: bool = False


@dataclass
class Sheet:
    """Everything the sheet says. `empty` are (line, space) it calls empty; `skipped` are lines
    that name neither a space nor a rating: titles, totals, remarks."""

    breakers: list[Said] = field(default_factory=list)
    empty: list[tuple[int, int]] = field(default_factory=list)
    skipped: list[int] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    unused: tuple[str, ...] = ()


def read_sheet(lines: Sequence[Line], frame: Frame) -> Sheet:
    """Read the lines against this backplate. Raises Invalid when no header row is found."""
    header = header_of(lines)
    sheet = Sheet(unused=header.unused)
    for half in header.halves:
        _read_half(sheet, list(_texts(lines, header, half)), frame)
    sheet.breakers.sort(key=lambda said: said.line)
    sheet.problems.sort(key=lambda problem: problem.line)
    return sheet


def _texts(
    lines: Sequence[Line], header: Header, half: Mapping[str, int]
) -> Iterator[tuple[int, dict[str, str]]]:
    for line, row in lines[header.at + 1 :]:
        texts = {name: row[at] if at < len(row) else "" for name, at in half.items()}
        if any(texts.values()):
            yield line, texts


def _read_half(sheet: Sheet, rows: list[tuple[int, dict[str, str]]], frame: Frame) -> None:
    above: Said | None = None
    for line, texts in rows:
        if not texts["space"] and not texts["rating_a"]:
            sheet.skipped.append(line)
            continue
        try:
            place = read_place(frame, texts["space"])
            if above and _goes_on(above, place, texts, frame):
                above = _longer(sheet, above, place, texts, frame)
                continue
            above = _breaker(sheet, line, place, texts, frame)
        except Refused as refusal:
            name, sentence = next(iter(refusal.fields.items()), ("space", refusal.sentence))
            sheet.problems.append(Problem(line, HEADERS.get(name, ""), sentence))
            above = None


def _breaker(
    sheet: Sheet, line: int, place: Place, texts: dict[str, str], frame: Frame
) -> Said | None:
    """The breaker this line says, put on the sheet; None for a space it calls empty."""
    name, amps = texts["name"], texts["rating_a"]
    blank = cells.is_ditto(name) and cells.is_ditto(amps)
    if blank or (cells.is_empty(name) and not texts.get("kind")):
        sheet.empty.append((line, place.space))
        return None
    values, feeds = _values(texts), texts.get("feeds", "")
    guessed = not (texts.get("kind", "").strip() or feeds or values["kind"] == "spare")
    said = Said(line=line, place=place, values=values, feeds=feeds, kind_is_guessed=guessed)
    said = replace(said, place=_placed(place, texts))
    said.place.seat(frame)
    sheet.breakers.append(said)
    return said


def _placed(place: Place, texts: dict[str, str]) -> Place:
    """The place with the poles another column gives, which may not contradict it."""
    told = [_poles(texts), getattr(cells.rating(texts["rating_a"]), "poles", None)]
    counts = {count for count in told if count} | ({place.poles} if place.poles > 1 else set())
    if len(counts) > 1:
        raise _bad("poles", _("The space, the poles and the breaker contradict each other."))
    return replace(place, poles=counts.pop() if counts else 1)


def _poles(texts: dict[str, str]) -> int | None:
    text = texts.get("poles", "")
    if cells.is_ditto(text):
        return None
    count = cells.poles(text)
    if count is None:
        raise _bad("poles", _("“%s” is not a number of poles. Write 1, 2 or 3.") % text)
    return count


def _goes_on(above: Said, place: Place, texts: dict[str, str], frame: Frame) -> bool:
    """This line is a further pole of the breaker above: blank or ditto in a space it covers or
    borders, or its repetition in a space it covers."""
    if place.half or place.poles > 1 or above.place.half:
        return False
    taken = above.place.seat(frame).spaces
    name, amps = texts["name"], texts["rating_a"]
    covered = place.space in taken
    if covered and cells.is_ditto(amps):
        return cells.is_ditto(name) or name.casefold() == above.values["name"].casefold()
    if covered:
        said = cells.rating(amps)
        same = said is not None and said.amps == above.values["rating_a"]
        return same and (cells.is_ditto(name) or name == above.values["name"])
    ditto = cells.is_ditto(name) and name.strip() != "" and cells.is_ditto(amps)
    return ditto and _borders(taken, place.space, frame)


def _borders(taken: Sequence[int], space: int, frame: Frame) -> bool:
    column, row = frame.place(taken[-1])
    return frame.number(column, row + 1) == space


def _longer(sheet: Sheet, above: Said, place: Place, texts: dict[str, str], frame: Frame) -> Said:
    """The breaker above with one more pole, where a ditto mark stands under it."""
    if place.space in above.place.seat(frame).spaces:
        return above
    longer = replace(above, place=replace(above.place, poles=above.place.poles + 1))
    longer.place.seat(frame)
    sheet.breakers[sheet.breakers.index(above)] = longer
    return longer


def _values(texts: dict[str, str]) -> dict[str, Any]:
    found = cells.rating(texts["rating_a"])
    if found is None:
        raise _bad("rating_a", _rating_missing(texts))
    spare = cells.is_spare(texts["name"]) and texts.get("kind", "").lower() in ("", "spare")
    name = "" if spare else " ".join(texts["name"].split())
    values: dict[str, Any] = {"rating_a": found.amps, "name": name}
    values["kind"] = _kind(texts, spare=spare)
    for column, read in READERS.items():
        text = texts.get(column, "")
        if text:
            values |= read(text)
    return values


def _rating_missing(texts: dict[str, str]) -> str:
    if not texts["rating_a"]:
        return _("The breaker’s rating is missing. Give it, or write “space” for an empty space.")
    return _("“%s” is not a rating. Write 20, or 50/2 with the poles.") % texts["rating_a"]


def _kind(texts: dict[str, str], *, spare: bool) -> str:
    said = texts.get("kind", "").strip().lower()
    if not said:
        if spare:
            return "spare"
        return "feeder" if texts.get("feeds") or cells.FEEDER.search(texts["name"]) else "branch"
    if said not in cells.KINDS:
        raise _bad("kind", _("“%s” is not a kind: circuit, feeder, source or spare.") % said)
    return cells.KINDS[said]


def _wire(text: str) -> dict[str, Any]:
    found = cells.wire(text)
    if found is None:
        raise _bad("wire", _("“%s” is not a conductor. Write 12 Cu or 2/0 Al.") % text)
    size, metal = found
    return {"wire_size": size, **({"wire_material": metal} if metal else {})}


def _protection(text: str) -> dict[str, Any]:
    said = text.strip().lower()
    if said not in cells.PROTECTIONS:
        raise _bad("protection", _("“%s” is not known: GFCI, AFCI, both, or plain.") % text)
    return {"protection": cells.PROTECTIONS[said]}


def _backed_up(text: str) -> dict[str, Any]:
    said = cells.yes_or_no(text)
    if said is None:
        raise _bad("backed_up", _("Write yes or no, not “%s”.") % text)
    return {"backed_up": said}


def _number(column: str) -> Reader:
    def read(text: str) -> dict[str, Any]:
        try:
            number = float(text)
        except ValueError as error:
            raise _bad(column, _("“%s” is not a number.") % text) from error
        return {column: int(number) if column == "shed_order" else number}

    return read


def _text(column: str) -> Reader:
    return lambda text: {column: " ".join(text.split())}


READERS: dict[str, Reader] = {
    "wire": _wire,
    "protection": _protection,
    "backed_up": _backed_up,
    "length_ft": _number("length_ft"),
    "shed_order": _number("shed_order"),
    "multiwire": _text("multiwire"),
    "notes": _text("notes"),
}


def _bad(column: str, sentence: str) -> LayoutError:
    return LayoutError(sentence, field=column)
