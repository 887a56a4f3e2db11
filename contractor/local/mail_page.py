"""Shows the mails a local run has caught, on a page of its own."""

import re
from dataclasses import dataclass
from html import escape
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from urllib.parse import quote

from contractor.local import mails
from contractor.local.mails import Mail

LINK = re.compile(r"https?://[^\s<>\"']+[^\s<>\"'.,;:)\]]")
OURS = re.compile(r"(127\.0\.0\.1|localhost|\[::1\])(:\d+)?")  # a page elsewhere may not reach in
PAGE_POLICY = "default-src 'none'; style-src 'self'; frame-src 'self'; base-uri 'none'"
# What a mail may do, wherever it is opened: show itself and open its links, nothing else.
MAIL_POLICY = (
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; "
    "sandbox allow-popups allow-popups-to-escape-sandbox"
)


@dataclass(frozen=True)
class Answer:
    """What the page says to one request."""

    body: bytes
    kind: str = "text/html; charset=utf-8"
    status: HTTPStatus = HTTPStatus.OK
    policy: str = PAGE_POLICY
    filename: str = ""


@dataclass(frozen=True)
class MailPage:
    """The list of mails, one mail, its HTML part, its attachments."""

    folder: Path

    def answer(self, path: str) -> Answer:
        match path.partition("?")[0].strip("/").split("/"):
            case [""]:
                return _page("Mails", _list(mails.newest(self.folder)))
            case ["style.css"]:
                style = files("contractor.local").joinpath("mail.css").read_bytes()
                return Answer(style, "text/css")
            case [name, *rest] if mail := mails.find(self.folder, name):
                return _of(mail, rest)
        return _missing()


def _of(mail: Mail, rest: list[str]) -> Answer:
    match rest:
        case []:
            return _page(mail.subject, _one(mail))
        case ["html"]:
            # A link opens beside the mail: inside the frame it could run no script.
            page = f'<!doctype html><base target="_blank">{mail.html()}'
            return Answer(page.encode(), policy=MAIL_POLICY)
        case ["file", number] if number.isdecimal() and int(number) < len(mail.attachments()):
            filename, content = mail.attachments()[int(number)]
            return Answer(content, "application/octet-stream", filename=filename)
    return _missing()


def _missing() -> Answer:
    text = '<p>There is no such mail. <a href="/">All mails</a></p>'
    return _page("Not found", text, HTTPStatus.NOT_FOUND)


def _page(title: str, content: str, status: HTTPStatus = HTTPStatus.OK) -> Answer:
    page = f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(title)}</title>
<link rel="stylesheet" href="/style.css">
</head>
<body>
<header><a href="/">Caught mails</a> <small>kept on this computer, sent to nobody</small></header>
<main>
<h1>{escape(title)}</h1>
{content}
</main>
</body>
</html>
"""
    return Answer(page.encode(), status=status)


def _list(found: list[Mail]) -> str:
    if not found:
        return "<p>No mails yet. What the program sends will be kept here.</p>"
    rows = "".join(
        f'<li><a href="/{mail.name}"><b>{escape(mail.subject)}</b> <span>{escape(mail.to)}</span> '
        f"<time>{mail.at.astimezone():%a %d %b, %H:%M:%S}</time></a></li>\n"
        for mail in found
    )
    older = f"<p>Only the newest {mails.SHOWN} are listed.</p>" if len(found) == mails.SHOWN else ""
    return f'<p><a href="/">Look again</a></p><ol>{rows}</ol>{older}'


def _one(mail: Mail) -> str:
    headers = "".join(
        f"<dt>{escape(name)}</dt><dd>{escape(value)}</dd>" for name, value in mail.headers()
    )
    attached = "".join(
        f'<li><a href="/{mail.name}/file/{number}">{escape(filename)}</a> '
        f"<small>{len(content):,} bytes</small></li>"
        for number, (filename, content) in enumerate(mail.attachments())
    )
    parts = [f"<dl>{headers}</dl>"]
    if attached:
        parts.append(f"<h2>Attached</h2><ul>{attached}</ul>")
    if mail.html():
        parts.append(
            f'<h2>As a page</h2><iframe src="/{mail.name}/html" title="The mail"></iframe>'
        )
    if mail.text():
        parts.append(f"<h2>As text</h2><pre>{_linked(mail.text())}</pre>")
    return "\n".join(parts)


def _linked(text: str) -> str:
    """Return text as HTML in which addresses of the web can be followed."""
    pieces, end = [], 0
    for link in LINK.finditer(text):
        url = escape(link[0])
        pieces += [escape(text[end : link.start()]), f'<a href="{url}" rel="noreferrer">{url}</a>']
        end = link.end()
    return "".join([*pieces, escape(text[end:])])


def listen(page: MailPage, port: int) -> ThreadingHTTPServer:
    """Return a server of the page, for this computer only."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            ours = OURS.fullmatch(self.headers.get("Host", ""))
            answer = page.answer(self.path) if ours else _missing()
            self.send_response(answer.status)
            self.send_header("Content-Type", answer.kind)
            self.send_header("Content-Length", str(len(answer.body)))
            self.send_header("Content-Security-Policy", answer.policy)
            self.send_header("X-Content-Type-Options", "nosniff")
            self.send_header("Cache-Control", "no-store")
            if answer.filename:
                name = quote(answer.filename, safe="")
                self.send_header("Content-Disposition", f"attachment; filename*=UTF-8''{name}")
            self.end_headers()
            self.wfile.write(answer.body)

    return ThreadingHTTPServer(("127.0.0.1", port), Handler)
