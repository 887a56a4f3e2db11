"""A person at a browser without script: opens pages, follows links, fills in forms, presses."""

from __future__ import annotations

from typing import Any
from urllib.parse import urljoin, urlsplit

from django.http import HttpResponse
from django.test import Client

from tests.stories.reading import Blank, around, read, text_of, under

Answers = dict[str, Any]
Words = str | tuple[str, ...]


class Visitor:
    """Keeps cookies and is checked against forgery, like a browser."""

    def __init__(self) -> None:
        self.client = Client(enforce_csrf_checks=True)

    def open(self, url: str, *, expect: int = 200) -> Page:
        parts = urlsplit(url)
        address = parts.path + (f"?{parts.query}" if parts.query else "")
        return self._arrive(self.client.get(address, follow=True), address, expect)

    def get(self, url: str) -> HttpResponse:
        """A paper, a picture or a list, as it comes."""
        answer = self.client.get(url)
        assert answer.status_code == 200, f"{url}: {answer.status_code}"
        return answer

    def send(self, page: Page, url: str, data: Answers, *, expect: int = 200) -> Page:
        here = {"HTTP_REFERER": f"http://testserver{page.url}"}
        answer = self.client.post(url, data, follow=True, **here)  # type: ignore[arg-type]
        return self._arrive(answer, url, expect)

    def _arrive(self, answer: Any, url: str, expect: int) -> Page:
        at = answer.redirect_chain[-1][0] if answer.redirect_chain else url
        page = Page(self, urljoin(url, at), answer)
        assert answer.status_code == expect, f"{at}: {answer.status_code}\n{page.text}"
        return page

    def sign_in(self, email: str, password: str) -> Page:
        page = self.open("/sign-in/")
        return page.press("Sign in", {"E-mail": email, "Password": password})


class Page:
    """What came back, or the part of it that is looked at."""

    def __init__(self, visitor: Visitor, url: str, answer: Any, part: Any = None) -> None:
        self.visitor, self.url, self.answer = visitor, url, answer
        self.whole = read(answer.content.decode()) if part is None else part[0]
        self.root = self.whole if part is None else part[1]

    @property
    def text(self) -> str:
        return text_of(self.root)

    def says(self, *sentences: str) -> Page:
        for sentence in sentences:
            assert sentence in self.text, f"{self.url} does not say “{sentence}”: {self.text}"
        return self

    def lacks(self, *sentences: str) -> Page:
        for sentence in sentences:
            assert sentence not in self.text, f"{self.url} says “{sentence}”"
        return self

    def at(self, words: str) -> Page:
        """Only the row, item or section where these words stand."""
        return Page(self.visitor, self.url, self.answer, (self.whole, around(self.root, words)))

    def under(self, heading: str) -> Page:
        """Only the part with this heading."""
        return Page(self.visitor, self.url, self.answer, (self.whole, under(self.root, heading)))

    def links(self) -> dict[str, str]:
        found: dict[str, str] = {}
        for one in self.root.iter("a"):
            found.setdefault(text_of(one), urljoin(self.url, one.get("href", "")))
        return found

    def link(self, words: Words) -> str:
        """Where the link leads that is called, or begins, like this."""
        links = self.links()
        near = [url for label, url in links.items() if label.startswith(words)]
        found = links.get(str(words)) or (near[0] if near else None)
        assert found, f"no link “{words}” on {self.url}: {sorted(links)}"
        return found

    def follow(self, words: Words, *, expect: int = 200) -> Page:
        return self.visitor.open(self.link(words), expect=expect)

    def press(
        self,
        button: Words,
        answers: Answers | None = None,
        *,
        script: Answers | None = None,
        expect: int = 200,
    ) -> Page:
        """Fill in the form that has this button, press it, and see what comes.

        `script` is what only script writes: hidden fields by name.
        """
        form = self._form(button)
        pressed = next(one for one in form.buttons if text_of(one).startswith(button))
        form.press(pressed)
        for label, value in (answers or {}).items():
            form.fill(label, value)
        form.sends |= {name: [value] for name, value in (script or {}).items()}
        to = pressed.get("formaction") or form.form.get("action") or self.url
        url, sent = urljoin(self.url, to), form.sends
        if form.form.get("method", "get").lower() == "post":
            return self.visitor.send(self, url, sent, expect=expect)
        query = "&".join(f"{name}={value}" for name, some in sent.items() for value in some)
        return self.visitor.open(f"{urlsplit(url).path}?{query}", expect=expect)

    def force(self, data: Answers, *, expect: int) -> Page:
        """Send to this page what no button on it sends, as a page left open too long would."""
        token = next(
            one for one in self.whole.iter("input") if one.get("name") == "csrfmiddlewaretoken"
        )
        sent = {"csrfmiddlewaretoken": token.get("value", ""), **data}
        return self.visitor.send(self, self.url, sent, expect=expect)

    def _form(self, button: Words) -> Blank:
        blanks = [Blank(self.whole, one) for one in self.root.iter("form")]
        outside = {one.get("form") for one in self.root.iter("button") if one.get("form")}
        inside = [blank.form for blank in blanks]
        blanks += [
            Blank(self.whole, one)
            for one in self.whole.iter("form")
            if one.get("id") in outside and one not in inside
        ]
        found = [
            blank
            for blank in blanks
            if any(text_of(one).startswith(button) for one in blank.buttons)
        ]
        names = [text_of(one) for blank in blanks for one in blank.buttons]
        assert found, f"no button “{button}” on {self.url}: {names}"
        assert len(found) == 1, f"several forms with “{button}” on {self.url}: {names}"
        return found[0]
