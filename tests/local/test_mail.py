"""Is every mail of a local run kept, shown, and sent to nobody?"""

import http.client
import re
import smtplib
import sys
import time
from email.message import EmailMessage
from urllib.parse import urlsplit

import pytest

from contractor.local import addresses, mails, ports
from contractor.local.mail import Catcher
from contractor.local.mail_page import MAIL_POLICY, MailPage
from contractor.local.processes import start

PICTURE = b"\x89PNG\r\n\x1a\n" + b"0" * 20


def walk_through() -> EmailMessage:
    mail = EmailMessage()
    mail["From"] = "Tallow Creek Electric <office@tallowcreek.example>"
    mail["To"] = "Ada Quill <ada@quill.example>"
    mail["Subject"] = "Your panel <script>alert(1)</script> & how it works"
    mail.set_content("Dear Ada,\nsee https://panels.example/p/1?a=1&b=2.\n<b>Bye</b>\n")
    mail.add_alternative('<p>Dear Ada</p><img src="cid:mark"><script>1</script>', subtype="html")
    mail.get_body(("html",)).add_related(PICTURE, "image", "png", cid="<mark>")
    mail.add_attachment(b"%PDF-1.7", "application", "pdf", filename="panel Größe.pdf")
    return mail


@pytest.fixture
def page(folder):
    return MailPage(folder)


@pytest.fixture
def name(folder):
    kept = Catcher(folder).keep(walk_through().as_bytes(), ["ada@quill.example", "b@b.example"])
    return kept.stem


def shown(page: MailPage, path: str) -> str:
    answer = page.answer(path)
    assert answer.status == 200
    return answer.body.decode()


def test_an_empty_box_says_what_will_come(page):
    assert "No mails yet" in shown(page, "/")


def test_the_list_has_the_newest_first_and_leads_to_each(page, folder):
    for subject in ("first", "second"):
        mail = EmailMessage()
        mail["Subject"] = subject
        Catcher(folder).keep(mail.as_bytes(), ["a@a.example"])
    listed = shown(page, "/")
    assert listed.index("second") < listed.index("first")
    for path in re.findall(r'<li><a href="(/[^"]+)"', listed):
        assert "a@a.example" in shown(page, path)


def test_a_mail_shows_its_headers_text_links_and_blind_recipients(page, name):
    one = shown(page, f"/{name}")
    assert "Ada Quill &lt;ada@quill.example&gt;" in one
    assert "ada@quill.example, b@b.example" in one
    assert '<a href="https://panels.example/p/1?a=1&amp;b=2" rel="noreferrer">' in one
    assert "&lt;b&gt;Bye&lt;/b&gt;" in one


def test_what_a_mail_says_cannot_run_on_the_page(page, name):
    for path in ("/", f"/{name}"):
        assert "<script" not in shown(page, path)
    answer = page.answer(f"/{name}/html")
    assert answer.policy == MAIL_POLICY
    assert "sandbox" in MAIL_POLICY
    assert "allow-scripts" not in MAIL_POLICY
    assert "allow-same-origin" not in MAIL_POLICY


def test_the_html_part_opens_links_beside_it_and_has_its_pictures(page, name):
    html = shown(page, f"/{name}/html")
    assert html.startswith('<!doctype html><base target="_blank">')
    assert 'src="data:image/png;base64,' in html
    assert "cid:" not in html


def test_an_attachment_comes_back_as_it_was_sent(page, name):
    assert "panel Größe.pdf" in shown(page, f"/{name}")
    answer = page.answer(f"/{name}/file/0")
    assert (answer.body, answer.filename) == (b"%PDF-1.7", "panel Größe.pdf")


@pytest.mark.parametrize(
    "path",
    ["/../secret-key", "/%2e%2e/secret-key", "/20261125-000000-000000", "/x", "/a/b/c"],
)
def test_nothing_but_mails_is_served(page, folder, path):
    (folder / "secret.eml").write_text("secret")
    assert page.answer(path).status == 404
    assert mails.find(folder, "secret") is None


def test_an_attachment_that_is_not_there_is_not_found(page, name):
    for rest in ("file/1", "file/-1", "file/x", "nothing"):
        assert page.answer(f"/{name}/{rest}").status == 404


def test_a_mail_sent_over_smtp_is_on_the_page_and_only_for_this_computer(folder):
    smtp, web = ports.next_free(21025), ports.next_free(28025)
    words = ["-m", "contractor.local.mail", folder / "mail"]
    options = ["--smtp-port", str(smtp), "--page-port", str(web)]
    child = start("mail", [sys.executable, *words, *options], logs=folder, cwd=addresses.CHECKOUT)
    try:
        while ports.is_free(web):
            assert child.exit_code is None, child.last_lines()
            time.sleep(0.02)
        with smtplib.SMTP("127.0.0.1", smtp) as office:
            office.send_message(walk_through())
        assert "Your panel" in get(f"http://127.0.0.1:{web}/")
        assert "no such mail" in get(f"http://127.0.0.1:{web}/", host="elsewhere.example")
    finally:
        child.stop()
    assert child.exit_code == 0
    assert len(list((folder / "mail").iterdir())) == 1


def get(url: str, host: str = "localhost") -> str:
    connection = http.client.HTTPConnection(urlsplit(url).netloc, timeout=5)
    connection.request("GET", urlsplit(url).path, headers={"Host": host})
    answer = connection.getresponse()
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    return answer.read().decode()
