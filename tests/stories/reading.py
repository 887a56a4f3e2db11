"""What does a page say, and what can be filled in and pressed on it? Read from its HTML."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any
from xml.etree.ElementTree import Element, TreeBuilder

VOID = {"area", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"}
INLINE = {"a", "abbr", "b", "cite", "code", "del", "em", "i", "ins", "small", "span", "strong"}
UNSEEN = {"script", "style", "template", "head"}
PLACES = ("li", "tr", "article", "fieldset", "details", "section", "form", "dialog")
HEADINGS = (("h2", "h3", "h4", "legend"), ("th",))


class _Reader(HTMLParser):
    """A tree of the page; a tag closed that was not the last one opened is an error."""

    def __init__(self) -> None:
        super().__init__()
        self.tree = TreeBuilder()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._apart(tag)
        self.tree.start(tag, {name: value or "" for name, value in attrs})
        if tag in VOID:
            self.tree.end(tag)
        else:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        expected = self.open.pop()
        assert expected == tag, f"</{tag}> closes <{expected}> in line {self.getpos()[0]}"
        self.tree.end(tag)
        self._apart(tag)

    def handle_data(self, data: str) -> None:
        if self.open:
            self.tree.data(data)

    def _apart(self, tag: str) -> None:
        if self.open and tag not in INLINE:
            self.tree.data(" ")


def read(html: str) -> Element:
    reader = _Reader()
    reader.feed(html)
    reader.close()
    assert not reader.open, f"never closed: {reader.open}"
    return reader.tree.close()


def text_of(element: Element) -> str:
    return re.sub(r"\s+", " ", "".join(_pieces(element))).strip()


def _pieces(element: Element) -> Iterator[str]:
    if element.tag in UNSEEN:
        return
    yield element.text or ""
    for child in element:
        yield from _pieces(child)
        yield child.tail or ""


def around(root: Element, words: str) -> Element:
    """The innermost item, row, section or form in which these words stand."""
    found = [one for one in root.iter() if one.tag in PLACES and words in text_of(one)]
    assert found, f"“{words}” stands nowhere in: {text_of(root)}"
    return min(found, key=lambda one: len(text_of(one)))


def under(root: Element, heading: str) -> Element:
    """The innermost part of the page that has this heading."""
    for tags in HEADINGS:
        found = [
            one
            for one in root.iter()
            if one.tag in PLACES
            and any(text_of(head) == heading for tag in tags for head in one.iter(tag))
        ]
        if found:
            return min(found, key=lambda one: len(text_of(one)))
    raise AssertionError(f"no part is headed “{heading}” in: {text_of(root)}")


class Blank:
    """One form as it stands on the page: what it would send, and what may be changed of it."""

    def __init__(self, root: Element, form: Element) -> None:
        self.form = form
        name = form.get("id")
        elsewhere = [one for one in root.iter() if name and one.get("form") == name]
        self.inputs = [
            one
            for one in [*form.iter(), *elsewhere]
            if one.tag in ("input", "select", "textarea", "button") and "disabled" not in one.attrib
        ]
        self.labels = self._labels(form)
        self.sends: dict[str, list[Any]] = {}
        for one in self.inputs:
            for value in _as_it_stands(one):
                self.sends.setdefault(one.get("name", ""), []).append(value)

    @property
    def buttons(self) -> list[Element]:
        return [
            one
            for one in self.inputs
            if one.tag == "button" and one.get("type", "submit") == "submit"
        ]

    def press(self, button: Element) -> None:
        if name := button.get("name"):
            self.sends[name] = [button.get("value", "")]

    def fill(self, label: str, value: Any) -> None:
        """Write into the field with this label (or name) what a person would: words or a file."""
        name = self._name(label)
        here = [one for one in self.inputs if one.get("name") == name]
        kind = here[0].get("type", here[0].tag)
        if kind in ("radio", "select") or here[0].tag == "select":
            self.sends[name] = [self._choice(here, one) for one in _several(value)]
        elif kind == "checkbox" and len(here) == 1 and isinstance(value, bool):
            self.sends[name] = [here[0].get("value", "on")] if value else []
        elif kind == "checkbox":
            self.sends[name] = [self._choice(here, one) for one in _several(value)]
        else:
            assert kind != "hidden", f"nobody can write into {name}"
            self.sends[name] = _several(value)

    def _labels(self, form: Element) -> dict[str, str]:
        """Label or legend to the name of what it labels."""
        names = {one.get("id"): one.get("name", "") for one in self.inputs if one.get("id")}
        found: dict[str, str] = {}
        for one in form.iter("label"):
            inside = [child.get("name", "") for child in one.iter() if child.get("name")]
            key = one.get("for")
            if name := (names.get(key) if key else None) or (inside[0] if inside else ""):
                found.setdefault(_label(one), name)
        for one in form.iter("fieldset"):
            legend = one.find("legend")
            inside = [child.get("name", "") for child in one.iter() if child.get("name")]
            if legend is not None and len(set(inside)) == 1:
                found[_label(legend)] = inside[0]
        return found

    def _name(self, label: str) -> str:
        names = {one.get("name") for one in self.inputs}
        name = self.labels.get(label) or (label if label in names else "")
        assert name, f"no field “{label}” among {sorted(self.labels)} {sorted(map(str, names))}"
        return name

    def _choice(self, here: list[Element], wanted: Any) -> str:
        """The value of the option, radio or tick that is called, or begins, like this."""
        offered = _options(here) if here[0].tag == "select" else self._ticks(here)
        known = {value: value for value in offered.values()} | offered
        if str(wanted) in known:
            return known[str(wanted)]
        near = {value for label, value in offered.items() if label.startswith(str(wanted))}
        assert len(near) == 1, f"“{wanted}” is not one of {offered}"
        return near.pop()

    def _ticks(self, here: list[Element]) -> dict[str, str]:
        """Radios or ticks by the label about them, or the one that names their id."""
        found = {}
        for label in self.form.iter("label"):
            inside = [one for one in label.iter("input") if one in here]
            named = [one for one in here if one.get("id") and one.get("id") == label.get("for")]
            for one in (inside or named)[:1]:
                found[text_of(label)] = one.get("value", "on")
        return found


def _label(element: Element) -> str:
    return text_of(element).removesuffix(" optional")


def _several(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list | tuple) else [value]


def _options(here: list[Element]) -> dict[str, str]:
    return {text_of(one): one.get("value", text_of(one)) for one in here[0].iter("option")}


def _as_it_stands(one: Element) -> list[str]:
    """What this input sends if nobody touches it."""
    kind = one.get("type", "text")
    if one.tag == "button" or kind in ("file", "submit", "button"):
        return []
    if one.tag == "textarea":
        return ["".join(one.itertext()).removeprefix("\n")]
    if one.tag == "select":
        options = list(one.iter("option"))
        chosen = [option for option in options if "selected" in option.attrib] or (
            options[:1] if "multiple" not in one.attrib else []
        )
        return [option.get("value", text_of(option)) for option in chosen]
    if kind in ("radio", "checkbox"):
        return [one.get("value", "on")] if "checked" in one.attrib else []
    return [one.get("value", "")]
